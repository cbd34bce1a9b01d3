import { words } from '../words.ts';
import type { RunPlan } from './runLog.ts';

const WIDE = 600;
const HIGH = 76;

/** The strip seen from above: steps in the light are open, the others lie under the cover. */
export const StripNow = ({ plan, open }: { plan: RunPlan; open: readonly number[] }) => {
  const { steps } = plan;
  const cell = WIDE / steps.length;
  const nameOf = (step: number): string => (step === 0 ? words.run.base : String(step));
  const list = (some: readonly { readonly step: number }[]): string =>
    some.length === 0 ? words.run.none : some.map(({ step }) => nameOf(step)).join(', ');
  return (
    <figure class="strip-now">
      <svg
        viewBox={`0 0 ${WIDE} ${HIGH}`}
        role="img"
        aria-label={words.run.stripText(
          list(steps.filter(({ step }) => open.includes(step))),
          list(steps.filter(({ step }) => !open.includes(step))),
        )}
      >
        <defs>
          <pattern
            id="covered"
            width="9"
            height="9"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <path d="M0 0V9" class="cover-line" />
          </pattern>
        </defs>
        {steps.map(({ step }, i) => {
          const isOpen = open.includes(step);
          return (
            <g key={step}>
              <rect
                x={i * cell + 2}
                y={isOpen ? 2 : 10}
                width={cell - 4}
                height={isOpen ? HIGH - 4 : HIGH - 20}
                class={isOpen ? 'cell-open' : 'cell-covered'}
              />
              {!isOpen && (
                <rect x={i * cell + 2} y={10} width={cell - 4} height={HIGH - 20} fill="url(#covered)" />
              )}
              <rect x={(i + 0.5) * cell - 19} y={HIGH / 2 - 15} width={38} height={30} class="cell-plate" />
              <text x={(i + 0.5) * cell} y={HIGH / 2 + 7} text-anchor="middle" class="cell-name">
                {step === 0 ? '0' : step}
              </text>
            </g>
          );
        })}
      </svg>
    </figure>
  );
};
