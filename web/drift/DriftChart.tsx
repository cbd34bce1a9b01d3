import { useRef } from 'preact/hooks';
import type { DriftAnswer } from '../../server/contracts/drift.ts';
import { formatNumber } from '../numbers.ts';
import { Said, Warnings } from '../parts/Remarks.tsx';
import { SavedPicture } from '../parts/SavedPicture.tsx';
import { useWidth } from '../parts/useWidth.ts';
import { words } from '../words.ts';
import { DriftPlot } from './DriftPlot.tsx';

type Drift = DriftAnswer['drift'];
type Chart = Extract<Drift, { kind: 'chart' }>;

const RULES = [
  'beyond-limits',
  'two-of-three',
  'four-of-five',
  'eight-on-one-side',
  'moving-average',
  'moving-range',
] as const;

/** How limits come about and what each sign means, to be looked up. */
const Meanings = () => (
  <details class="drift-meanings">
    <summary>{words.drift.meanings}</summary>
    <p>{words.drift.limitsMade}</p>
    <dl>
      {RULES.map((code) => (
        <div key={code}>
          <dt>{words.drift.rule[code]}</dt>
          <dd>{words.drift.means[code]}</dd>
        </div>
      ))}
    </dl>
  </details>
);

const Verdict = ({ chart }: { chart: Chart }) => (
  <>
    <p>
      <strong>{words.drift.verdicts[chart.verdict]}.</strong>{' '}
      {words.drift.limits(formatNumber(chart.individuals.lower, 2), formatNumber(chart.individuals.upper, 2))}
      .{' '}
      {chart.timeFactor === 1
        ? words.drift.timesStay
        : words.drift.timeFactor(formatNumber(chart.timeFactor, 2))}
    </p>
    <p>
      <Said text={chart.sentence} phrase={chart.phrase} />
    </p>
  </>
);

const Findings = ({ chart }: { chart: Chart }) =>
  chart.findings.length > 0 && (
    <>
      <h3>{words.drift.rules}</h3>
      <ul class="warnings">
        {chart.findings.map(({ code, index }) => (
          <li key={`${code}${index}`}>
            <strong>{words.drift.point(index - chart.from + 1, words.drift.rule[code])}.</strong>{' '}
            {words.drift.means[code]}
          </li>
        ))}
      </ul>
    </>
  );

/** The chart of a series, or what there is of it so far. */
export const DriftChart = ({ drift }: { drift: Drift }) => {
  const [ref, widthPx] = useWidth<HTMLDivElement>();
  const drawing = useRef<HTMLDivElement>(null);
  const chart = drift.kind === 'chart' ? drift : null;
  // While scraps are being gathered, those of an earlier setup are not of this baseline.
  const shown = drift.records.slice(drift.kind === 'chart' ? drift.from : drift.records.length - drift.count);
  return (
    <section aria-labelledby="chart-heading">
      <h2 id="chart-heading">{words.drift.chart}</h2>
      {chart ? (
        <Verdict chart={chart} />
      ) : (
        drift.kind === 'gathering' && (
          <p>
            <strong>{words.drift.gathering(drift.count, drift.needed)}</strong> {words.drift.gatheringNext}
          </p>
        )
      )}
      {shown.length > 0 && (
        <>
          <div ref={ref}>
            <div ref={drawing}>
              {widthPx > 100 && (
                <DriftPlot
                  values={shown.map(({ shiftStops }) => shiftStops)}
                  dates={shown.map(({ date }) => date ?? '')}
                  chart={chart}
                  widthPx={widthPx}
                />
              )}
            </div>
          </div>
          <SavedPicture drawing={() => drawing.current?.querySelector('svg')} name="drift" />
        </>
      )}
      {chart && <Findings chart={chart} />}
      {drift.warnings.length > 0 && <Warnings warnings={drift.warnings} />}
      <Meanings />
    </section>
  );
};
