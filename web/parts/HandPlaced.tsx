import type { Preview } from '../../server/contracts/answers.ts';
import type { Marks } from '../../server/contracts/marks.ts';
import { patchNamesOf } from '../cardPatches.ts';
import { type ChosenPhoto, describedStrip } from '../draft.ts';
import { firstMarks } from '../handMarks.ts';
import { sourceOf } from '../stripPhotos.ts';
import { LiveEditor } from './LiveEditor.tsx';
import { MarkedPhoto } from './MarkedPhoto.tsx';

/** Marks to begin with on a photo: strip and card as two bands to be pulled into place; null while times or card are missing. */
export const handMarksFor = ({ photoWidthPx, photoHeightPx }: Preview): Marks | null => {
  const strip = describedStrip();
  if (!strip) return null;
  const seconds = strip.steps.map((step) => step.seconds);
  return firstMarks(photoWidthPx, photoHeightPx, seconds, patchNamesOf(strip.card));
};

/** A chosen photo; with handles where its marks are placed by hand. */
export const HandPlaced = ({
  photo: { file, preview },
  marks,
  onChange,
}: {
  photo: ChosenPhoto;
  marks: Marks | null;
  onChange: (marks: Marks) => void;
}) =>
  marks ? (
    <LiveEditor
      preview={preview}
      marks={marks}
      photosWith={(now) => [{ source: sourceOf(file), marks: now }]}
      strip={describedStrip()}
      onChange={onChange}
    />
  ) : (
    <MarkedPhoto preview={preview} marks={null} />
  );
