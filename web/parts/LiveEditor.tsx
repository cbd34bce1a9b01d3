import { useEffect } from 'preact/hooks';
import type { Preview } from '../../server/contracts/answers.ts';
import type { LookAnswer } from '../../server/contracts/look.ts';
import type { Marks } from '../../server/contracts/marks.ts';
import type { StripDescription } from '../../server/contracts/strip.ts';
import { areProper } from '../handMarks.ts';
import { type LookWish, useLooker } from '../look.ts';
import { LiveSteps } from './LiveSteps.tsx';
import { MarkEditor } from './MarkEditor.tsx';

/** The editor of marks, and beneath it what the steps come to while they are moved. */
export const LiveEditor = ({
  preview,
  marks,
  photosWith,
  strip,
  before = null,
  onChange,
}: {
  preview: Preview;
  marks: Marks;
  /** All photos of the strip, with these marks on the one that is being edited. */
  photosWith: (marks: Marks) => LookWish['photos'];
  strip: StripDescription | null;
  /** The steps as they were read before anything was moved. */
  before?: LookAnswer['steps'] | null;
  onChange: (marks: Marks) => void;
}) => {
  const { steps, look } = useLooker();
  const lookAt = (now: Marks): void => {
    if (strip && areProper(now)) look({ photos: photosWith(now), strip });
  };
  // The first look brings the photo to the server and has it decoded before anything is moved.
  useEffect(() => lookAt(marks), []);
  const now = steps.value ?? before;
  return (
    <MarkEditor
      preview={preview}
      marks={marks}
      beneath={now && <LiveSteps steps={now} />}
      onChange={(next) => {
        onChange(next);
        lookAt(next);
      }}
    />
  );
};
