import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { ArchiveAnswer } from '../../server/contracts/archive.ts';
import type { BookAnswer } from '../../server/contracts/recordUse.ts';
import type { Failure } from '../api.ts';
import { formatNumber } from '../numbers.ts';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { EnglishSentence } from '../parts/Remarks.tsx';
import { Answered } from '../record/Answered.tsx';
import { asking, failureOf } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import { bringArchiveIn, fetchBook } from '../record/recordApi.ts';
import { words } from '../words.ts';
import '../styles/book.css';

/** The whole book out as one file, and such a file in. */
export const ArchiveView = () => {
  const { answer, ask } = useMemo(() => asking<BookAnswer>(), []);
  const busy = useSignal(false);
  const done = useSignal<ArchiveAnswer | null>(null);
  const failure = useSignal<Failure | null>(null);
  const look = (): Promise<void> => ask(fetchBook);
  useEffect(() => {
    look();
  }, []);
  const bringIn = async (file: File): Promise<void> => {
    busy.value = true;
    failure.value = null;
    done.value = null;
    try {
      done.value = await bringArchiveIn(file);
      look();
    } catch (error) {
      failure.value = failureOf(error);
    } finally {
      busy.value = false;
    }
  };
  const added = (of: ArchiveAnswer): number => Object.values(of.added).reduce((sum, count) => sum + count, 0);
  return (
    <main class="book-view" id="main" tabIndex={-1}>
      <h1>{words.archive.heading}</h1>
      <BookWays />
      <section aria-labelledby="out-heading">
        <h2 id="out-heading">{words.archive.out}</h2>
        <p>{words.archive.outNote}</p>
        <a class="pick" href="/api/record/archive" download="">
          {words.archive.outButton}
        </a>
      </section>
      <section aria-labelledby="in-heading">
        <h2 id="in-heading">{words.archive.in}</h2>
        <p>{words.archive.inNote}</p>
        <label class="pick">
          {busy.value ? words.archive.working : words.archive.inButton}
          <input
            type="file"
            accept=".zip,application/zip"
            disabled={busy.value}
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              if (file) bringIn(file);
              event.currentTarget.value = '';
            }}
          />
        </label>
        {done.value && (
          <p role="status">
            {words.archive.inDone(
              formatNumber(added(done.value), 0),
              formatNumber(done.value.known + done.value.renewed, 0),
            )}{' '}
            <EnglishSentence text={done.value.sentence} />
          </p>
        )}
        {failure.value && <ProblemNote failure={failure.value} />}
      </section>
      <Answered asked={answer.value} again={look}>
        {({ counts, photos, photoBytes, place }) => (
          <section aria-labelledby="place-heading">
            <h2 id="place-heading">{words.archive.place}</h2>
            <p>{place === null ? words.archive.placeHidden : <code>{place}</code>}</p>
            <p class="fine">
              {words.archive.counts(
                formatNumber(counts.reading ?? 0, 0),
                formatNumber(photos, 0),
                formatNumber(photoBytes / 1e6, 1),
              )}
            </p>
          </section>
        )}
      </Answered>
    </main>
  );
};
