import type { CardKind } from '../../server/contracts/strip.ts';
import { draft } from '../draft.ts';
import { type OwnPatchDraft, type PatchMeasure, patchesOf } from '../ownPatches.ts';
import { words } from '../words.ts';

const KINDS: readonly (CardKind | 'own')[] = ['white-grey-black', 'grey-18', 'grey-scale', 'chart-24', 'own'];
const MEASURES: readonly PatchMeasure[] = ['Y', 'L', 'density'];

/** Patches of the named cards as small greys, so that the card can be recognised at a glance. */
const LOOKS: Readonly<Record<CardKind, readonly number[]>> = {
  'white-grey-black': [96, 49.5, 22],
  'grey-18': [49.5],
  'grey-scale': [95, 76, 60, 47, 36, 27, 18, 12],
  'chart-24': [96, 81, 66, 51, 36, 20],
};

const CardLook = ({ kind }: { kind: CardKind | 'own' }) => (
  <span class="card-look" aria-hidden="true">
    {kind === 'own' ? (
      <span class="card-own">?</span>
    ) : (
      LOOKS[kind].map((L) => <span key={L} style={{ backgroundColor: `lab(${L}% 0 0)` }} />)
    )}
  </span>
);

const OwnPatches = () => {
  const rows = draft.ownPatches.value;
  const change = (index: number, part: Partial<OwnPatchDraft>): void => {
    draft.ownPatches.value = rows.map((row, i) => (i === index ? { ...row, ...part } : row));
  };
  const patches = patchesOf(rows);
  const typed = draft.tried.value || rows.some((row) => row.value.trim() !== '');
  return (
    <div class="own-patches">
      {rows.map((row, i) => (
        <fieldset key={i} class="patch-row">
          <legend class="unseen">{words.form.patchRow(i + 1)}</legend>
          <label class="field">
            <span>{words.form.patchName}</span>
            <input
              value={row.name}
              onInput={(event) => change(i, { name: event.currentTarget.value })}
              autocapitalize="none"
            />
          </label>
          <label class="field">
            <span>{words.form.patchMeasure}</span>
            <select
              value={row.measure}
              onChange={(event) => change(i, { measure: event.currentTarget.value as PatchMeasure })}
            >
              {MEASURES.map((measure) => (
                <option key={measure} value={measure}>
                  {words.form.measures[measure]}
                </option>
              ))}
            </select>
          </label>
          <label class="field">
            <span>{words.form.patchValue}</span>
            <input
              value={row.value}
              inputMode="decimal"
              onInput={(event) => change(i, { value: event.currentTarget.value })}
            />
          </label>
          <button
            type="button"
            class="quiet remove"
            aria-label={words.form.removePatch(i + 1)}
            onClick={() => {
              draft.ownPatches.value = rows.filter((_, other) => other !== i);
            }}
          >
            ×
          </button>
        </fieldset>
      ))}
      <button
        type="button"
        class="quiet"
        onClick={() => {
          draft.ownPatches.value = [...rows, { name: '', measure: rows.at(-1)?.measure ?? 'Y', value: '' }];
        }}
      >
        {words.form.addPatch}
      </button>
      {patches.kind === 'problem' && typed && (
        <p class="field-problem" role="alert">
          {words.form.patchProblem[patches.problem]}
        </p>
      )}
    </div>
  );
};

/** Which card lies beside the strip. */
export const CardField = () => (
  <fieldset class="block">
    <legend>{words.form.card}</legend>
    <div class="cards">
      {KINDS.map((kind) => (
        <label key={kind} class="card-choice">
          <input
            type="radio"
            name="card"
            checked={draft.card.value === kind}
            onChange={() => {
              draft.card.value = kind;
              draft.marks.value = null;
            }}
          />
          <span class="card-words">
            <span>{words.form.cardName[kind]}</span>
            <span class="fine">{words.form.cardHint[kind]}</span>
          </span>
          <CardLook kind={kind} />
        </label>
      ))}
    </div>
    {draft.card.value === 'own' && <OwnPatches />}
  </fieldset>
);
