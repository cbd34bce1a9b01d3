import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { DriftAnswer } from '../../server/contracts/drift.ts';
import type { ReadingLine } from '../../server/contracts/recordReadings.ts';
import type { Control } from '../../server/contracts/recordUse.ts';
import { goTo } from '../address.ts';
import { DriftChart } from '../drift/DriftChart.tsx';
import { numbersOf, recordsOf, type Series, seriesOf } from '../drift/series.ts';
import { formatDay, formatHour, formatMoment, formatNumber } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { ScrollPlace } from '../parts/ScrollPlace.tsx';
import { Tick } from '../parts/Tick.tsx';
import { Answered } from '../record/Answered.tsx';
import { asking } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import {
  chartDrift,
  fetchCloths,
  fetchControls,
  fetchDyes,
  fetchLights,
  fetchReadings,
} from '../record/recordApi.ts';
import { useAway } from '../record/useAway.ts';
import { words } from '../words.ts';
import '../styles/book.css';
import '../styles/table.css';
import '../styles/compare.css';
import '../styles/drift.css';

interface Known {
  readonly controls: readonly Control[];
  readonly calibrations: readonly ReadingLine[];
  /** Names of dyes, cloths and lights by their ids. */
  readonly names: ReadonlyMap<string, string>;
}

const MOST_CALIBRATIONS = 500;

const fetchKnown = async (away: boolean): Promise<Known> => {
  const [controls, { readings }, ...things] = await Promise.all([
    fetchControls({ away }),
    fetchReadings({ purpose: 'calibration', superseded: true, limit: MOST_CALIBRATIONS }),
    fetchDyes(),
    fetchCloths(),
    fetchLights(),
  ]);
  const names = new Map(things.flat().map(({ id, name }) => [id, name]));
  return { controls, calibrations: readings, names };
};

const Scraps = ({
  series,
  from,
  again,
}: {
  series: Series;
  /** How many charted scraps are of earlier baselines. */
  from: number;
  again: () => void;
}) => {
  const numbers = numbersOf(series, from);
  const { failure, swap } = useAway('control', again);
  return (
    <section aria-labelledby="scraps-heading">
      <h2 id="scraps-heading">{words.drift.scraps}</h2>
      <ScrollPlace labelledBy="scraps-heading">
        <table class="plan-table scraps">
          <thead>
            <tr>
              <th scope="col">{words.drift.number}</th>
              <th scope="col">{words.drift.date}</th>
              <th scope="col">{words.drift.shift}</th>
              <th scope="col">
                <span class="unseen">{words.book.putAway}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {series.scraps.map((control, i) => {
              const { id, exposedAt, shiftStops, setup, lampHours, putAwayAt } = control;
              const date = formatMoment(Date.parse(exposedAt));
              const facts = [
                formatHour(Date.parse(exposedAt)),
                lampHours !== null && words.drift.hours(formatNumber(lampHours, 0)),
                putAwayAt !== null && words.book.isAway,
                putAwayAt === null &&
                  numbers[i] === null &&
                  (shiftStops.value === null ? words.drift.tellsNothing : words.drift.earlier),
              ].filter(Boolean);
              const act = putAwayAt ? words.book.bringBack : words.book.putAway;
              return (
                <tr key={id}>
                  <th scope="row">{numbers[i] === null ? '–' : formatNumber(numbers[i] ?? 0, 0)}</th>
                  <td>
                    {formatDay(Date.parse(exposedAt))}
                    <span class="fine scrap-facts">
                      {facts.join(' · ')}
                      {setup !== '' && ' · '}
                      {setup !== '' && <span class="pair-name">{setup}</span>}
                    </span>
                  </td>
                  <td>
                    {shiftStops.value === null ? '–' : formatNumber(shiftStops.value, 2)}
                    {shiftStops.low !== null && shiftStops.high !== null && (
                      <span class="fine figure-range">
                        {formatNumber(shiftStops.low, 2)} – {formatNumber(shiftStops.high, 2)}
                      </span>
                    )}
                  </td>
                  <td>
                    <button
                      type="button"
                      class="quiet"
                      aria-label={`${act}: ${date}`}
                      onClick={() => swap(id, `${words.book.purposes.control} ${date}`, putAwayAt !== null)}
                    >
                      {act}
                    </button>
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </ScrollPlace>
      {failure.value && <ProblemNote failure={failure.value} />}
    </section>
  );
};

const SeriesPart = ({ series, again }: { series: Series; again: () => void }) => {
  const { answer, ask } = useMemo(() => asking<DriftAnswer['drift'] | null>(), []);
  const records = recordsOf(series);
  const asked = JSON.stringify(records);
  const look = (): Promise<void> =>
    ask(async () => (records.length === 0 ? null : (await chartDrift(records)).drift));
  useEffect(() => {
    look();
  }, [asked]);
  return (
    <Answered asked={answer.value} again={look}>
      {(drift) => (
        <>
          {drift === null ? <p>{words.drift.noneTells}</p> : <DriftChart drift={drift} />}
          <Scraps
            series={series}
            from={
              drift === null ? 0 : drift.kind === 'chart' ? drift.from : drift.records.length - drift.count
            }
            again={again}
          />
        </>
      )}
    </Answered>
  );
};

const Charts = ({ known: { controls, calibrations, names }, again }: { known: Known; again: () => void }) => {
  const all = seriesOf(controls, calibrations);
  const chosen = useSignal(all[0].key);
  const series = all.find(({ key }) => key === chosen.value) ?? all[0];
  const dates = new Map(calibrations.map(({ id, exposedAt }) => [id, exposedAt]));
  const nameOf = ({ againstId, dyeId, clothId, lightId }: Series): string => {
    const date = dates.get(againstId);
    return [
      ...[dyeId, clothId, lightId].map((id) => names.get(id) ?? ''),
      date ? words.book.exposedAt(formatDay(Date.parse(date))) : '',
    ]
      .filter(Boolean)
      .join(' · ');
  };
  return (
    <>
      {all.length > 1 ? (
        <Choice label={words.drift.which} value={chosen} options={all.map((one) => [one.key, nameOf(one)])} />
      ) : (
        <p class="pair-name">{nameOf(series)}</p>
      )}
      <SeriesPart key={series.key} series={series} again={again} />
    </>
  );
};

/** Control scraps in the order of time: is the light steady? */
export const DriftView = () => {
  const { answer, ask } = useMemo(() => asking<Known>(), []);
  const away = useSignal(false);
  const look = (): Promise<void> => ask(() => fetchKnown(away.value));
  useEffect(() => {
    look();
  }, [away.value]);
  return (
    <main class="book-view" id="main" tabIndex={-1}>
      <h1>{words.drift.heading}</h1>
      <BookWays />
      <p>{words.drift.why}</p>
      <Answered asked={answer.value} again={look}>
        {(known) =>
          known.controls.length === 0 ? (
            <div class="empty">
              <p class="empty-what">{words.drift.empty}</p>
              <p>{words.drift.emptyNext}</p>
              <button type="button" onClick={() => goTo('plan')}>
                {words.plan.heading}
              </button>
            </div>
          ) : (
            <Charts known={known} again={look} />
          )
        }
      </Answered>
      <Tick label={words.book.showAway} value={away} />
    </main>
  );
};
