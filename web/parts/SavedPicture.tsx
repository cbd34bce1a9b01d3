import type { RefObject } from 'preact';
import { pictureOf, saveFile, svgFileOf } from '../save.ts';
import { words } from '../words.ts';

/** Saves the drawing inside an element as a file: as SVG for a drawing program, as PNG for a message or a notebook. */
export const SavedPicture = ({
  within,
  name,
}: {
  within: RefObject<HTMLElement | null>;
  /** Of the files, without ending. */
  name: string;
}) => {
  const drawing = (): SVGSVGElement | null => within.current?.querySelector('svg') ?? null;
  return (
    <div class="saves">
      <button
        type="button"
        onClick={() => {
          const svg = drawing();
          if (svg) saveFile(svgFileOf(svg), `${name}.svg`, 'image/svg+xml');
        }}
      >
        {words.stage.saveDrawing}
      </button>
      <button
        type="button"
        onClick={async () => {
          const svg = drawing();
          const picture = svg && (await pictureOf(svg));
          if (picture) saveFile(picture, `${name}.png`, 'image/png');
        }}
      >
        {words.stage.savePicture}
      </button>
    </div>
  );
};
