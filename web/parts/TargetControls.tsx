import { depthPercent } from '../../analysis/curve/evaluate.ts';
import type { Advice, Curve } from '../../server/contracts/reading.ts';
import type { Target } from '../../server/contracts/target.ts';
import { formatNumber } from '../numbers.ts';
import { words } from '../words.ts';

const DEPTHS = [90, 75, 50];

/** Ways to say how deep: as deep as it goes, a share of it, or lighter and deeper by half an L* with a wet thumb. */
export const TargetControls = ({
  curve,
  answer,
  onTarget,
}: {
  curve: Curve;
  answer: Advice;
  onTarget: (target: Target) => void;
}) => {
  const { target, targetL } = answer;
  const step = (by: number): void => {
    if (targetL === null) return;
    const L = Math.min(curve.baseL, Math.max(curve.deepestL, targetL + by));
    onTarget({ kind: 'L', L: Math.round(L * 10) / 10 });
  };
  return (
    <section class="targets" aria-labelledby="target-heading">
      <h3 id="target-heading">{words.target.heading}</h3>
      <div class="target-buttons">
        <button
          type="button"
          class="choice wide"
          aria-pressed={target.kind === 'full'}
          onClick={() => onTarget({ kind: 'full' })}
        >
          {words.target.full}
        </button>
        {DEPTHS.map((percent) => (
          <button
            key={percent}
            type="button"
            class="choice"
            aria-pressed={target.kind === 'depth' && target.percent === percent}
            aria-label={words.target.depthLabel(percent)}
            onClick={() => onTarget({ kind: 'depth', percent })}
          >
            {words.target.depth(percent)}
          </button>
        ))}
      </div>
      <div class="target-steps">
        <button type="button" onClick={() => step(0.5)}>
          {words.target.lighter}
        </button>
        <output class="target-value">
          {targetL === null
            ? '–'
            : `L* ${formatNumber(targetL, 1)} · ${formatNumber(depthPercent(curve, targetL), 0)} %`}
        </output>
        <button type="button" onClick={() => step(-0.5)}>
          {words.target.deeper}
        </button>
      </div>
    </section>
  );
};
