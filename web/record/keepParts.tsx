import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { KeptReading, Purpose } from '../../server/contracts/recordReadings.ts';
import type { Sky } from '../../server/contracts/recordText.ts';
import type { Batch } from '../../server/contracts/recordThings.ts';
import type { Control, Note } from '../../server/contracts/recordUse.ts';
import { goTo } from '../address.ts';
import type { Failure } from '../api.ts';
import { formatMoment, parseNumber } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { tell } from '../parts/Notice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { Said } from '../parts/Remarks.tsx';
import { shiftPhrase } from '../sentences/shiftPhrase.ts';
import { keptKey, type Shown, target } from '../session.ts';
import { readOptions } from '../settings.ts';
import { layOnShelf, shelf } from '../shelf/shelf.ts';
import { words } from '../words.ts';
import { Answered } from './Answered.tsx';
import { asking, failureOf } from './ask.ts';
import {
  bringBack,
  fetchBatches,
  fetchCloths,
  fetchDyes,
  fetchLights,
  fetchNotes,
  fetchPlans,
  keepControl,
  keepReading,
  makeBatch,
  newId,
  putAway,
  writeNote,
} from './recordApi.ts';
import '../styles/keep.css';

const SKIES: readonly Sky[] = ['clear', 'scattered', 'broken', 'overcast'];
const PURPOSES: readonly Purpose[] = ['calibration', 'control', 'print'];
const NEW_BATCH = 'new';

/** A day in the form that date fields have. */
const dayOf = (at: number): string => new Date(at).toISOString().slice(0, 10);

const useBook = () => {
  const known = useSignal<{
    readonly dyes: readonly string[];
    readonly cloths: readonly string[];
    readonly lights: readonly string[];
    readonly batches: readonly Batch[];
  } | null>(null);
  useEffect(() => {
    Promise.all([fetchDyes(), fetchCloths(), fetchLights(), fetchBatches()]).then(
      ([dyes, cloths, lights, batches]) => {
        const names = (things: readonly { readonly name: string }[]): readonly string[] =>
          things.map(({ name }) => name);
        known.value = { dyes: names(dyes), cloths: names(cloths), lights: names(lights), batches };
      },
      () => undefined,
    );
  }, []);
  return known.value;
};

/** The plan of the sheet in the photo, where the book has it. */
const planInBook = async (planId: string | undefined): Promise<string | null> =>
  planId !== undefined && (await fetchPlans()).some(({ id }) => id === planId) ? planId : null;

/** Keeps the strip on show in the book, with what its time holds for. */
export const KeepForm = ({ shown }: { shown: Shown }) => {
  const { reading, strip } = shown;
  const onShelf = shelf.value.find(({ key }) => key === shown.key);
  const known = useBook();
  const id = useMemo(newId, []);
  const purpose = useSignal<Purpose>('calibration');
  const dye = useSignal(strip.dye);
  const cloth = useSignal(strip.cloth);
  const light = useSignal(strip.light);
  const lightKind = useSignal<'lamps' | 'sun'>('lamps');
  const hours = useSignal('');
  const sky = useSignal<Sky | ''>('');
  const batch = useSignal('');
  const batchName = useSignal('');
  const mixedOn = useSignal(dayOf(Date.now()));
  const setup = useSignal('');
  const remark = useSignal('');
  const confirmed = useSignal(false);
  const tried = useSignal(false);
  const busy = useSignal(false);
  const failure = useSignal<Failure | null>(null);
  const controlSays = useSignal<Control | null>(null);
  const doubtful =
    reading.warnings.some(({ code }) => code === 'marks-uncertain') ||
    [...reading.marks.steps, ...reading.marks.card].some(({ confidence }) => confidence < 0.5);
  const named = [dye, cloth, light].every((field) => field.value.trim() !== '');
  const hoursNumber = hours.value.trim() === '' ? null : parseNumber(hours.value);
  const hoursWrong = hours.value.trim() !== '' && (hoursNumber === null || hoursNumber < 0);

  if (onShelf?.keptId !== undefined) {
    const { keptId } = onShelf;
    return (
      <section class="keep" aria-labelledby="keep-heading">
        <h2 id="keep-heading">{words.keep.kept}</h2>
        {controlSays.value && (
          <p>
            {words.keep.controlSays}:{' '}
            <Said text={controlSays.value.sentence} phrase={shiftPhrase(controlSays.value)} />
          </p>
        )}
        <button type="button" onClick={() => goTo('answer', keptKey(keptId))}>
          {words.keep.keptOpen}
        </button>
      </section>
    );
  }

  const keep = async (): Promise<void> => {
    tried.value = true;
    if (!named || hoursWrong || (doubtful && !confirmed.value)) return;
    busy.value = true;
    failure.value = null;
    try {
      const batchId =
        batch.value === NEW_BATCH && batchName.value.trim() !== ''
          ? (await makeBatch(batchName.value.trim(), null, new Date(mixedOn.value).toISOString())).id
          : batch.value === NEW_BATCH || batch.value === ''
            ? null
            : batch.value;
      const names = { dye: dye.value.trim(), cloth: cloth.value.trim(), light: light.value.trim() };
      const byHand = [...reading.marks.steps, ...reading.marks.card].some(({ origin }) => origin === 'hand');
      const { line } = await keepReading({
        photo: await shown.photo(),
        strip: { ...strip, ...names },
        marks: byHand ? reading.marks : null,
        taps: shown.taps,
        target: target.value,
        also: await Promise.all(
          shown.also.map(async (other) => ({ photo: await other.photo(), marks: other.marks })),
        ),
        options: readOptions(),
        context: {
          id,
          purpose: purpose.value,
          lightKind: lightKind.value,
          lampHours: lightKind.value === 'lamps' ? hoursNumber : null,
          sky: lightKind.value === 'sun' && sky.value !== '' ? sky.value : null,
          batchId,
          planId: await planInBook(reading.planId),
          confirmed: confirmed.value || byHand,
          remark: remark.value,
        },
      });
      if (purpose.value === 'control') controlSays.value = await keepControl(line.id, setup.value.trim());
      if (onShelf) await layOnShelf({ ...onShelf, keptId: line.id });
      tell(words.keep.kept, () => {
        putAway('reading', line.id);
        const { keptId: _, ...without } = shelf.value.find(({ key }) => key === shown.key) ?? onShelf ?? {};
        if ('key' in without) layOnShelf(without as NonNullable<typeof onShelf>);
      });
    } catch (error) {
      failure.value = failureOf(error);
    } finally {
      busy.value = false;
    }
  };

  return (
    <section class="keep" aria-labelledby="keep-heading">
      <h2 id="keep-heading">{words.keep.heading}</h2>
      <p class="fine">{words.keep.why}</p>
      <form
        noValidate
        class="keep-form"
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        {(
          [
            ['dye', dye, known?.dyes],
            ['cloth', cloth, known?.cloths],
            ['light', light, known?.lights],
          ] as const
        ).map(([name, field, names]) => (
          <label key={name} class="field">
            <span>{words.form[name]}</span>
            <input
              value={field.value}
              maxLength={200}
              list={`known-${name}`}
              aria-invalid={tried.value && field.value.trim() === ''}
              onInput={(event) => {
                field.value = event.currentTarget.value;
              }}
            />
            <datalist id={`known-${name}`}>
              {names?.map((one) => (
                <option key={one} value={one} />
              ))}
            </datalist>
          </label>
        ))}
        {tried.value && !named && (
          <p class="field-problem wide" role="alert">
            {words.keep.missing}
          </p>
        )}
        <Choice
          label={words.keep.purpose}
          value={purpose}
          options={PURPOSES.map((name) => [name, words.book.purposes[name]])}
        />
        {purpose.value === 'control' && (
          <label class="field">
            <span>{words.keep.setup}</span>
            <input
              value={setup.value}
              maxLength={500}
              onInput={(event) => {
                setup.value = event.currentTarget.value;
              }}
            />
          </label>
        )}
        <Choice
          label={words.keep.lightKind}
          value={lightKind}
          options={[
            ['lamps', words.keep.lightKinds.lamps],
            ['sun', words.keep.lightKinds.sun],
          ]}
        />
        {lightKind.value === 'lamps' ? (
          <label class="field">
            <span>{words.keep.lampHours}</span>
            <input
              value={hours.value}
              inputMode="decimal"
              placeholder={words.keep.notNoted}
              aria-invalid={hoursWrong}
              onInput={(event) => {
                hours.value = event.currentTarget.value;
              }}
            />
          </label>
        ) : (
          <Choice
            label={words.keep.sky}
            value={sky}
            options={[
              ['', words.keep.notNoted],
              ...SKIES.map((name) => [name, words.plan.skies[name]] as const),
            ]}
          />
        )}
        {hoursWrong && (
          <p class="field-problem wide" role="alert">
            {words.keep.hoursWrong}
          </p>
        )}
        <Choice
          label={words.keep.batch}
          value={batch}
          options={[
            ['', words.keep.noBatch],
            ...(known?.batches ?? []).map(({ id: batchId, name }) => [batchId, name] as const),
            [NEW_BATCH, words.keep.newBatch],
          ]}
        />
        {batch.value === NEW_BATCH && (
          <>
            <label class="field">
              <span>{words.keep.batchName}</span>
              <input
                value={batchName.value}
                maxLength={200}
                onInput={(event) => {
                  batchName.value = event.currentTarget.value;
                }}
              />
            </label>
            <label class="field">
              <span>{words.keep.mixedOn}</span>
              <input
                type="date"
                value={mixedOn.value}
                onInput={(event) => {
                  mixedOn.value = event.currentTarget.value;
                }}
              />
            </label>
          </>
        )}
        <label class="field wide">
          <span>{words.keep.remark}</span>
          <textarea
            rows={2}
            value={remark.value}
            maxLength={10_000}
            onInput={(event) => {
              remark.value = event.currentTarget.value;
            }}
          />
        </label>
        {doubtful && (
          <div class="wide">
            <label class="tick-box">
              <input
                type="checkbox"
                checked={confirmed.value}
                onChange={(event) => {
                  confirmed.value = event.currentTarget.checked;
                }}
              />
              <span>{words.keep.confirm}</span>
            </label>
            <p class={tried.value && !confirmed.value ? 'field-problem' : 'fine'}>{words.keep.confirmWhy}</p>
          </div>
        )}
        {failure.value && <ProblemNote failure={failure.value} />}
        <button type="submit" class="wide" disabled={busy.value}>
          {busy.value ? words.keep.keeping : words.keep.keep}
        </button>
      </form>
    </section>
  );
};

const NoteList = ({ id }: { id: string }) => {
  const { answer, ask } = useMemo(() => asking<readonly Note[]>(), []);
  const text = useSignal('');
  const failure = useSignal<Failure | null>(null);
  const look = (): Promise<void> => ask(() => fetchNotes('reading', id));
  useEffect(() => {
    look();
  }, [id]);
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
                    {formatMoment(Date.parse(note.createdAt))}{' '}
                    <button
                      type="button"
                      class="quiet"
                      onClick={async () => {
                        await putAway('note', note.id);
                        look();
                        tell(words.book.putAwayDone(words.keep.notes), () =>
                          bringBack('note', note.id).then(look),
                        );
                      }}
                    >
                      {words.book.putAway}
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
          try {
            await writeNote('reading', id, text.value.trim());
            text.value = '';
            failure.value = null;
            look();
          } catch (error) {
            failure.value = failureOf(error);
          }
        }}
      >
        <label class="field">
          <span>{words.keep.note}</span>
          <textarea
            rows={2}
            value={text.value}
            onInput={(event) => {
              text.value = event.currentTarget.value;
            }}
          />
        </label>
        <button type="submit" disabled={text.value.trim() === ''}>
          {words.keep.addNote}
        </button>
        {failure.value && <ProblemNote failure={failure.value} />}
      </form>
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
  const swap = async (): Promise<void> => {
    const now = away.value;
    await (now ? bringBack : putAway)('reading', line.id);
    away.value = !now;
    if (!now)
      tell(words.book.putAwayDone(line.dye), async () => {
        await bringBack('reading', line.id);
        away.value = false;
      });
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
          line.lampHours !== null && `${words.keep.lampHours}: ${line.lampHours}`,
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
      </div>
    </section>
  );
};
