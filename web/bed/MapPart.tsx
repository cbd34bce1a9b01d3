import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { EvennessAnswer } from '../../server/contracts/evenness.ts';
import { formatNumber } from '../numbers.ts';
import { Said, Warnings } from '../parts/Remarks.tsx';
import { SavedPicture } from '../parts/SavedPicture.tsx';
import { ScrollPlace } from '../parts/ScrollPlace.tsx';
import { useWidth } from '../parts/useWidth.ts';
import { phraseText } from '../sentences/phraseText.ts';
import { words } from '../words.ts';
import { aroundUsable, type BedMap, DoseMap, type DoseUnit, doseText } from './DoseMap.tsx';

const WIDEST_PX = 760;
const UNITS: readonly DoseUnit[] = ['percent', 'stops'];

const Cells = ({ map, unit }: { map: BedMap; unit: DoseUnit }) => (
  <details>
    <summary>{words.evenness.asTable}</summary>
    <h3 id="cells-heading" class="unseen">
      {words.evenness.asTable}
    </h3>
    <ScrollPlace labelledBy="cells-heading">
      <table class="plan-table dose-table">
        <thead>
          <tr>
            <th scope="col">{words.evenness.row}</th>
            {map.relativeDose[0].map((_, c) => (
              <th key={c} scope="col">
                {c + 1}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {map.relativeDose.map((row, r) => (
            <tr key={r}>
              <th scope="row">{r + 1}</th>
              {row.map((dose, c) => {
                const u = map.relativeU[r][c];
                return (
                  <td key={c}>
                    {dose === null ? '?' : doseText(dose, unit)}
                    {u !== null && (
                      <span class="fine">
                        {' '}
                        ±{' '}
                        {formatNumber(
                          unit === 'percent' ? 100 * u : u / Math.LN2,
                          unit === 'percent' ? 0 : 2,
                        )}
                      </span>
                    )}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollPlace>
    <p class="fine">{words.evenness.uNote}</p>
  </details>
);

const shareText = ({ value, low, high }: BedMap['usableShare']): string => {
  const percent = (share: number | null): string => (share === null ? '–' : formatNumber(100 * share, 0));
  return words.evenness.share(percent(value), percent(low), percent(high));
};

const DoseReport = ({ map }: { map: BedMap }) => {
  const unit = useSignal<DoseUnit>('percent');
  const [ref, widthPx] = useWidth<HTMLDivElement>();
  const drawing = useRef<HTMLDivElement>(null);
  const { usableArea, relativeDose, openPercent, pattern, tolerancePercent } = map;
  const [rows, columns] = [relativeDose.length, relativeDose[0].length];
  const where = words.evenness.place(pattern.where);
  const worded = phraseText(pattern.phrase);
  return (
    <>
      <p class="bed-verdict">
        <strong>{words.evenness.pattern[pattern.code]}</strong>
        {where !== '' && <> ({where})</>}.{' '}
        {worded === null && words.language !== 'en' && `${words.evenness.advice[pattern.code]} `}
        <Said text={pattern.text} phrase={pattern.phrase} />
      </p>
      <p>
        {words.evenness.within(formatNumber(tolerancePercent, 0))}: {shareText(map.usableShare)}.{' '}
        {usableArea === null
          ? words.evenness.noArea
          : usableArea.rows === rows && usableArea.columns === columns
            ? words.evenness.wholeArea
            : words.evenness.area(
                usableArea.columns,
                columns,
                usableArea.rows,
                rows,
                usableArea.column + 1,
                usableArea.row + 1,
              )}
      </p>
      <fieldset class="choices" aria-label={words.evenness.unit}>
        {UNITS.map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={unit.value === name}
            onClick={() => {
              unit.value = name;
            }}
          >
            {words.evenness.units[name]}
          </button>
        ))}
      </fieldset>
      <div ref={ref} class="dose-place">
        <div ref={drawing}>
          {widthPx > 100 && <DoseMap map={map} unit={unit.value} widthPx={Math.min(widthPx, WIDEST_PX)} />}
        </div>
      </div>
      <p class="fine">{words.evenness.key}</p>
      {map.basis === 'smooth' && <p class="fine">{words.evenness.smooth}</p>}
      {openPercent && (
        <p>{words.evenness.open(formatNumber(openPercent.across, 0), formatNumber(openPercent.down, 0))}</p>
      )}
      <Cells map={map} unit={unit.value} />
      {map.warnings.length > 0 && <Warnings warnings={map.warnings} />}
      <SavedPicture drawing={() => drawing.current?.querySelector('svg')} name="bed" />
    </>
  );
};

/** What the photos say of the light over the bed. */
export const MapPart = ({ answer: { evenness, sheet } }: { answer: EvennessAnswer }) => (
  <section class="bed-map" aria-labelledby="map-heading">
    <h2 id="map-heading">{words.evenness.map}</h2>
    {evenness.kind === 'map' ? (
      <DoseReport map={aroundUsable(evenness)} />
    ) : (
      <div class="empty">
        <p class="empty-what">{words.evenness.notMapped[evenness.kind]}</p>
        <p>{words.evenness.notMappedNext[evenness.kind]}</p>
        <p>
          <Said text={evenness.sentence} phrase={evenness.phrase} />
        </p>
      </div>
    )}
    {sheet && sheet.warnings.length > 0 && <Warnings warnings={sheet.warnings} />}
    {sheet && (
      <p class="fine">
        {words.notes.illumination[sheet.illumination.method]}. {words.notes.method(sheet.methodVersion)}
      </p>
    )}
  </section>
);
