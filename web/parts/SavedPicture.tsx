import type { ComponentChildren } from 'preact';
import { pictureOf, saveFile, svgFileOf } from '../save.ts';
import { words } from '../words.ts';

/** Saves a drawing as a file: as SVG for a drawing program, as PNG for a message or a notebook. */
export const SavedPicture = ({
  drawing,
  name,
  children,
}: {
  /** The drawing on show; null where there is none, and nothing is saved then. */
  drawing: () => SVGSVGElement | null | undefined;
  /** Of the files, without ending. */
  name: string;
  /** Further ways to save, beside these two. */
  children?: ComponentChildren;
}) => (
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
    {children}
  </div>
);
