import type { Preview } from '../../server/contracts/answers.ts';
import type { Quad } from '../../server/contracts/marks.ts';
import { cropBox } from '../quads.ts';

/** What the photo shows inside a mark. */
export const Crop = ({ preview, quad }: { preview: Preview; quad: Quad }) => {
  const { x, y, side } = cropBox(quad);
  return (
    <svg
      class="crop"
      viewBox={`${x} ${y} ${side} ${side}`}
      preserveAspectRatio="xMidYMid slice"
      aria-hidden="true"
    >
      <image
        href={preview.href}
        width={preview.photoWidthPx}
        height={preview.photoHeightPx}
        preserveAspectRatio="none"
      />
    </svg>
  );
};
