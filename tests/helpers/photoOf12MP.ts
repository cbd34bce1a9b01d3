import { type RenderedScene, renderScene } from '../../fixtures/render.ts';
import { sampleScene } from '../../fixtures/sample.ts';

/** A rendered photo of 12 megapixels, strip beside a white-grey-black card on a plain table. */
export const photoOf12MP = (): Promise<RenderedScene> =>
  renderScene(
    sampleScene(1212, {
      card: 'white-grey-black',
      surround: 'plain',
      pieces: 'contiguous',
      defects: false,
      widthPx: 4000,
      heightPx: 3000,
    }),
  );
