import type { Reading, Verdict } from '../../server/contracts/reading.ts';
import type { Target } from '../../server/contracts/target.ts';
import { formatNumber } from '../numbers.ts';
import { verdictText } from '../sentences/verdictText.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { Swatch } from './Swatch.tsx';
import { VerdictSign } from './VerdictSign.tsx';

const VERDICTS: readonly Verdict[] = ['washed-out', 'building', 'full-depth', 'overexposed'];

/** Every step with its numbers, its verdict and why; each can be made the target. */
export const StepTable = ({
  reading,
  onTarget,
}: {
  reading: Reading;
  onTarget: (target: Target) => void;
}) => {
  const canAim = reading.curve.kind === 'fitted';
  return (
    <section class="steps" aria-labelledby="steps-heading">
      <h2 id="steps-heading">{words.steps.heading}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.steps.time}</th>
            <th scope="col">{words.steps.colour}</th>
            <th scope="col">{words.steps.lightness}</th>
            <th scope="col">{words.steps.verdict}</th>
            {canAim && (
              <th scope="col">
                <span class="unseen">{words.steps.aim}</span>
              </th>
            )}
          </tr>
        </thead>
        {reading.steps.map((step, i) => (
          <tbody key={i}>
            <tr>
              <th scope="row">{step.seconds === 0 ? words.stage.base : formatTime(step.seconds)}</th>
              <td>
                <Swatch {...step} />
              </td>
              <td class="number">
                {formatNumber(step.L, 1)}
                <span class="fine"> {words.steps.plusMinus(formatNumber(step.uL, 1))}</span>
              </td>
              <td class="verdict">
                {step.seconds === 0 ? (
                  <span>{words.stage.unexposed}</span>
                ) : (
                  <>
                    <VerdictSign verdict={step.verdict} />
                    <span>{words.steps.verdictWord[step.verdict]}</span>
                  </>
                )}
              </td>
              {canAim && (
                <td class="aim">
                  <button
                    type="button"
                    class="quiet"
                    aria-label={words.target.aimHere(
                      step.seconds === 0 ? words.stage.base : formatTime(step.seconds),
                    )}
                    onClick={() => onTarget({ kind: 'L', L: Math.round(step.L * 10) / 10 })}
                  >
                    <svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
                      <path d="M2 10h16" stroke="currentColor" stroke-width="2" />
                      <path d="M10 1l4 5H6zM10 19l4-5H6z" fill="currentColor" />
                    </svg>
                    <span class="aim-word">{words.target.aimShort}</span>
                  </button>
                </td>
              )}
            </tr>
            <tr class="why">
              <td colSpan={canAim ? 5 : 4}>
                {words.language === 'en' ? step.reason : verdictText(step, reading.curve)}{' '}
                <span class="fine">
                  {words.steps.detail(
                    formatNumber(step.chroma, 1),
                    step.deltaEToBase === null ? null : formatNumber(step.deltaEToBase, 1),
                    formatNumber(step.density, 2),
                  )}
                </span>
              </td>
            </tr>
          </tbody>
        ))}
      </table>
      <p class="fine">{words.steps.uncertaintyNote}</p>
      <h3 class="legend-heading">{words.steps.legend}</h3>
      <dl class="legend">
        {VERDICTS.map((verdict) => (
          <div key={verdict}>
            <dt>
              <VerdictSign verdict={verdict} />
              {words.steps.verdictWord[verdict]}
            </dt>
            <dd>{words.steps.legendOf[verdict]}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
};
