import type { ComparisonAnswer } from '../../server/contracts/comparison.ts';
import { formatNumber } from '../numbers.ts';
import { Said } from '../parts/Remarks.tsx';
import { ScrollPlace } from '../parts/ScrollPlace.tsx';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { letterOf } from './strokes.ts';

const FIGURES = [
  'secondsToDepth',
  'secondsTo90',
  'contrastLPerStop',
  'exposureScaleStops',
  'deepestL',
  'deepestChroma',
  'deepestHue',
] as const;
type FigureName = (typeof FIGURES)[number];

const isShown = (figure: string): figure is FigureName => (FIGURES as readonly string[]).includes(figure);

const figureText = (name: FigureName, value: number | null): string =>
  value === null
    ? '–'
    : name === 'secondsToDepth' || name === 'secondsTo90'
      ? formatTime(value)
      : formatNumber(value, name === 'deepestHue' ? 0 : 1);

/** What the curves come to in figures, each with its interval, and which of them differ. */
export const Numbers = ({ answer: { comparison } }: { answer: ComparisonAnswer }) => {
  if (comparison.kind === 'not-comparable')
    return (
      <p class="field-problem">
        {words.compare.notComparable}: <Said text={comparison.reason} phrase={comparison.phrase} />
      </p>
    );
  return (
    <section aria-labelledby="numbers-heading">
      <h2 id="numbers-heading">{words.compare.table}</h2>
      <p class="fine">{words.compare.tableNote}</p>
      <ScrollPlace labelledBy="numbers-heading">
        <table class="plan-table">
          <thead>
            <tr>
              <td />
              {comparison.dyes.map(({ name }, i) => (
                <th key={name} scope="col">
                  {letterOf(i)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {FIGURES.map((name) => (
              <tr key={name}>
                <th scope="row">{words.compare.figures[name]}</th>
                {comparison.dyes.map((dye) => {
                  const { value, low, high } = dye[name];
                  return (
                    <td key={dye.name}>
                      {figureText(name, value)}
                      {(low !== null || high !== null) && (
                        <span class="fine figure-range">
                          {figureText(name, low)} – {figureText(name, high)}
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
      <ul class="plain-pairs">
        {comparison.pairs.map(({ first, second, differences, sentence, phrase }) => {
          const called = (wanted: string): string =>
            differences
              .flatMap(({ figure, verdict }) =>
                isShown(figure) && verdict === wanted ? [words.compare.figures[figure]] : [],
              )
              .join(', ');
          return (
            <li key={first + second}>
              <p>
                <strong class="pair-name">{words.compare.pair(first, second)}</strong>
              </p>
              <Said text={sentence} phrase={phrase} />
              <dl class="pair-verdicts">
                {(['different', 'not-separable', 'unknown'] as const).map((verdict) => {
                  const which = called(verdict);
                  return (
                    which !== '' && (
                      <div key={verdict}>
                        <dt>{words.compare.verdicts[verdict]}</dt>
                        <dd>{which}</dd>
                      </div>
                    )
                  );
                })}
              </dl>
            </li>
          );
        })}
      </ul>
    </section>
  );
};
