import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Purpose } from '../../server/contracts/recordReadings.ts';
import type { Sky } from '../../server/contracts/recordText.ts';
import type { Batch } from '../../server/contracts/recordThings.ts';
import type { Control } from '../../server/contracts/recordUse.ts';
import { goTo } from '../address.ts';
import { parseNumber } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { tell } from '../parts/Notice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { Said } from '../parts/Remarks.tsx';
import { TextField } from '../parts/TextField.tsx';
import { Tick } from '../parts/Tick.tsx';
import { shiftPhrase } from '../sentences/shiftPhrase.ts';
import { keptKey, type Shown, target } from '../session.ts';
import { readOptions } from '../settings.ts';
import { layOnShelf, shelf } from '../shelf/shelf.ts';
import { words } from '../words.ts';
import { useActing } from './acting.ts';
import { failureOf } from './ask.ts';
import { fieldMoment, momentIn } from './moments.ts';
import {
  fetchBatches,
  fetchCloths,
  fetchDyes,
  fetchLights,
  fetchPlans,
  keepControl,
  keepReading,
  makeBatch,
  newId,
  putAway,
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
  /** Sent twice, it is kept once; another after that, should it be taken back. */
  const id = useSignal(newId());
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
  const exposedOn = useSignal(fieldMoment(Date.now()));
  const madeBatch = useSignal<Batch | null>(null);
  const confirmed = useSignal(false);
  const tried = useSignal(false);
  const busy = useSignal(false);
  const { failure, act } = useActing();
  const controlSays = useSignal<Control | null>(null);
  const doubtful =
    reading.warnings.some(({ code }) => code === 'marks-uncertain') ||
    [...reading.marks.steps, ...reading.marks.card].some(({ confidence }) => confidence < 0.5);
  const named = [dye, cloth, light].every((field) => field.value.trim() !== '');
  const hoursNumber = hours.value.trim() === '' ? null : parseNumber(hours.value);
  const hoursWrong =
    lightKind.value === 'lamps' && hours.value.trim() !== '' && (hoursNumber === null || hoursNumber < 0);
  const exposedAt = momentIn(exposedOn.value, Date.now());
  const mixedAt = momentIn(mixedOn.value, Date.now());
  const batchWrong = batch.value === NEW_BATCH && (batchName.value.trim() === '' || mixedAt === null);

  if (onShelf?.keptId !== undefined) {
    const { keptId } = onShelf;
    return (
      <section class="keep" aria-labelledby="keep-heading">
        <h2 id="keep-heading" tabIndex={-1}>
          {words.keep.kept}
        </h2>
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

  /** Made once, however often keeping is tried. */
  const newBatch = async (): Promise<string> => {
    const name = batchName.value.trim();
    if (madeBatch.value?.name !== name)
      madeBatch.value = await makeBatch(name, null, new Date(mixedAt ?? Date.now()).toISOString());
    return madeBatch.value.id;
  };

  const keep = async (): Promise<void> => {
    tried.value = true;
    if (!named || hoursWrong || batchWrong || exposedAt === null || (doubtful && !confirmed.value)) return;
    busy.value = true;
    failure.value = null;
    try {
      const batchId = batch.value === NEW_BATCH ? await newBatch() : batch.value || null;
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
          id: id.value,
          purpose: purpose.value,
          lightKind: lightKind.value,
          lampHours: lightKind.value === 'lamps' ? hoursNumber : null,
          sky: lightKind.value === 'sun' && sky.value !== '' ? sky.value : null,
          batchId,
          exposedAt: new Date(exposedAt).toISOString(),
          planId: await planInBook(reading.planId),
          confirmed: confirmed.value || byHand,
          remark: remark.value,
        },
      });
      const control = purpose.value === 'control' ? await keepControl(line.id, setup.value.trim()) : null;
      controlSays.value = control;
      id.value = newId();
      if (onShelf) await layOnShelf({ ...onShelf, keptId: line.id });
      tell(words.keep.kept, () =>
        act(async () => {
          if (control) await putAway('control', control.id);
          await putAway('reading', line.id);
          const now = shelf.value.find(({ key }) => key === shown.key);
          if (!now) return;
          const { keptId: _, ...without } = now;
          await layOnShelf(without);
        }),
      );
    } catch (error) {
      failure.value = failureOf(error);
    } finally {
      busy.value = false;
    }
  };

  return (
    <section class="keep" aria-labelledby="keep-heading">
      <h2 id="keep-heading" tabIndex={-1}>
        {words.keep.heading}
      </h2>
      <p class="fine">{words.keep.why}</p>
      <form
        noValidate
        class="keep-form"
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        <TextField
          label={words.form.dye}
          value={dye}
          most={200}
          suggestions={known?.dyes}
          wrong={tried.value && dye.value.trim() === ''}
        />
        <TextField
          label={words.form.cloth}
          value={cloth}
          most={200}
          suggestions={known?.cloths}
          wrong={tried.value && cloth.value.trim() === ''}
        />
        <TextField
          label={words.form.light}
          value={light}
          most={200}
          suggestions={known?.lights}
          wrong={tried.value && light.value.trim() === ''}
        />
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
        <TextField
          label={words.keep.exposedOn}
          value={exposedOn}
          kind="moment"
          problem={exposedAt === null ? words.today.whenWrong : null}
        />
        {purpose.value === 'control' && <TextField label={words.keep.setup} value={setup} most={500} />}
        <Choice
          label={words.keep.lightKind}
          value={lightKind}
          options={[
            ['lamps', words.keep.lightKinds.lamps],
            ['sun', words.keep.lightKinds.sun],
          ]}
        />
        {lightKind.value === 'lamps' ? (
          <TextField
            label={words.keep.lampHours}
            value={hours}
            kind="number"
            placeholder={words.keep.notNoted}
            problem={hoursWrong ? words.keep.hoursWrong : null}
          />
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
            <TextField
              label={words.keep.batchName}
              value={batchName}
              most={200}
              problem={tried.value && batchName.value.trim() === '' ? words.keep.batchMissing : null}
            />
            <TextField
              label={words.keep.mixedOn}
              value={mixedOn}
              kind="day"
              problem={mixedAt === null ? words.today.whenWrong : null}
            />
          </>
        )}
        <TextField label={words.keep.remark} value={remark} kind="lines" most={10_000} wide />
        {doubtful && (
          <div class="wide">
            <Tick label={words.keep.confirm} value={confirmed} />
            <p class={tried.value && !confirmed.value ? 'field-problem' : 'fine'}>{words.keep.confirmWhy}</p>
          </div>
        )}
        {failure.value && <ProblemNote failure={failure.value} entered />}
        <button type="submit" class="wide" disabled={busy.value}>
          {busy.value ? words.keep.keeping : words.keep.keep}
        </button>
      </form>
    </section>
  );
};
