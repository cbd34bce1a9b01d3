import { renderScene } from '../../fixtures/render.ts';
import { sampleScene } from '../../fixtures/sample.ts';

/** A photo of 12 megapixels for what is timed and not judged. */
export const renderTwelveMegapixels = () =>
  renderScene(
    sampleScene(90_777, {
      card: 'white-grey-black',
      surround: 'plain',
      steps: 7,
      base: true,
      widthPx: 4000,
      heightPx: 3000,
    }),
  );

/** A JPEG like `jpeg` but for a comment after its start: another photo to whoever compares bytes. */
export const withComment = (jpeg: Uint8Array, text: string): Uint8Array<ArrayBuffer> => {
  const comment = Buffer.from(text);
  const head = Buffer.from([0xff, 0xfe, 0, comment.length + 2]);
  return new Uint8Array(Buffer.concat([jpeg.subarray(0, 2), head, comment, jpeg.subarray(2)]));
};
