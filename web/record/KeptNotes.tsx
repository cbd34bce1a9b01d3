import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { KeptReading } from '../../server/contracts/recordReadings.ts';
import type { Note } from '../../server/contracts/recordUse.ts';
import { goTo } from '../address.ts';
import { formatMoment, formatNumber } from '../numbers.ts';
import { tell } from '../parts/Notice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { TextField } from '../parts/TextField.tsx';
import { Tick } from '../parts/Tick.tsx';
import { keptKey } from '../session.ts';
import { words } from '../words.ts';
import { Answered } from './Answered.tsx';
import { useActing } from './acting.ts';
import { asking } from './ask.ts';
import { bringBack, fetchNotes, putAway, writeNote } from './recordApi.ts';
import { useAway } from './useAway.ts';
import '../styles/keep.css';

const NoteList = ({ id }: { id: string }) => {
  const { answer, ask } = useMemo(() => asking<readonly Note[]>(), []);
  const text = useSignal('');
  const away = useSignal(false);
  const { failure, act } = useActing();
  const look = (): Promise<void> => ask(() => fetchNotes('reading', id, away.value));
  const put = useAway('note', look);
  useEffect(() => {
    look();
  }, [id, away.value]);
  return (
    <section aria-labelledby="kept-notes-heading">
      <h3 id="kept-notes-heading">{words.keep.notes}</h3>
      <Answered asked={answer.value} again={look}>
        {(notes) =>
          notes.length === 0 ? (
            <p class="fine">{words.keep.noNotes}</p>
          ) : (
            <ul class="kept-notes">
              {notes.map((note) => (
                <li key={note.id}>
                  <p>{note.text}</p>
                  <p class="fine">
                    {formatMoment(Date.parse(note.createdAt))}
                    {note.putAwayAt !== null && ` · ${words.book.isAway}`}{' '}
                    <button
                      type="button"
                      class="quiet"
                      onClick={() => put.swap(note.id, words.keep.oneNote, note.putAwayAt !== null)}
                    >
                      {note.putAwayAt === null ? words.book.putAway : words.book.bringBack}
                    </button>
                  </p>
                </li>
              ))}
            </ul>
          )
        }
      </Answered>
      <form
        class="note-form"
        onSubmit={async (event) => {
          event.preventDefault();
          if (text.value.trim() === '') return;
          const written = await act(() => writeNote('reading', id, text.value.trim()));
          if (!written) return;
          text.value = '';
          look();
        }}
      >
        <TextField label={words.keep.note} value={text} kind="lines" most={10_000} />
        <button type="submit" disabled={text.value.trim() === ''}>
          {words.keep.addNote}
        </button>
        {failure.value && <ProblemNote failure={failure.value} entered />}
      </form>
      {put.failure.value && <ProblemNote failure={put.failure.value} />}
      <Tick label={words.book.showAway} value={away} />
    </section>
  );
};

/** What the book says of a kept reading: circumstances, notes, papers, a way to put it away. */
export const KeptNotes = ({ kept: { line } }: { kept: KeptReading }) => {
  const away = useSignal(line.putAwayAt !== null);
  const root = `/api/record/readings/${line.id}`;
  const papers = [
    [`report?language=${words.language}`, words.keep.report],
    ['steps', words.keep.steps],
    ...(line.deepestL === null ? [] : [['curve', words.keep.curve] as const]),
    ['cgats', words.keep.cgats],
  ] as const;
  const { failure, act } = useActing();
  const set = (isAway: boolean): Promise<boolean> =>
    act(async () => {
      await (isAway ? putAway : bringBack)('reading', line.id);
      away.value = isAway;
    });
  const swap = async (): Promise<void> => {
    const put = !away.value;
    if ((await set(put)) && put) tell(words.book.putAwayDone(line.dye), () => set(false));
  };
  return (
    <section class="keep" aria-labelledby="kept-heading">
      <h2 id="kept-heading">{words.keep.inBook}</h2>
      {away.value && <p class="field-problem">{words.keep.isAway}</p>}
      {line.supersededById !== null && (
        <p class="field-problem">
          {words.keep.superseded}{' '}
          <button type="button" onClick={() => goTo('answer', keptKey(line.supersededById ?? ''))}>
            {words.keep.openLater}
          </button>
        </p>
      )}
      <p>
        {[
          words.book.purposes[line.purpose],
          words.book.exposedAt(formatMoment(Date.parse(line.exposedAt))),
          line.batch && `${words.keep.batch}: ${line.batch}`,
          line.lampHours !== null && `${words.keep.lampHours}: ${formatNumber(line.lampHours, 0)}`,
          line.sky && `${words.keep.sky}: ${words.plan.skies[line.sky]}`,
        ]
          .filter(Boolean)
          .join(' · ')}
      </p>
      {line.remark && <p>{line.remark}</p>}
      <h3>{words.keep.papers}</h3>
      <div class="saves">
        {papers.map(([name, text]) => (
          <a key={name} class="pick" href={`${root}/${name}`} download="">
            {text}
          </a>
        ))}
      </div>
      <NoteList id={line.id} />
      <div>
        <button type="button" class="quiet" onClick={swap}>
          {away.value ? words.book.bringBack : words.book.putAway}
        </button>
        {failure.value && <ProblemNote failure={failure.value} />}
      </div>
    </section>
  );
};
