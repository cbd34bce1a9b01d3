import { depthPercent } from '../../analysis/curve/evaluate.ts';
import type { Advice } from '../../server/contracts/reading.ts';
import type { Target } from '../../server/contracts/target.ts';
import { formatNumber } from '../numbers.ts';
import { layPlot } from '../plotFrame.ts';
import type { Shown } from '../session.ts';
import { formatTime } from '../times.ts';
import { cssColour } from '../trueColour.ts';
import { words } from '../words.ts';
import { Crop } from './Crop.tsx';
import { Plot } from './Plot.tsx';
import { TargetHandle } from './TargetHandle.tsx';
import { useWidth } from './useWidth.ts';
import { VerdictSign } from './VerdictSign.tsx';

const NARROW_PX = 560;

/** Curve, predicted colours, and the strip itself cut up, all along one time axis. */
export const Stage = ({
  shown: { reading, preview },
  answer,
  onTarget,
}: {
  shown: Shown;
  answer: Advice;
  onTarget: (target: Target) => void;
}) => {
  const [ref, widthPx] = useWidth<HTMLDivElement>();
  const frame = layPlot(reading, widthPx, widthPx < NARROW_PX ? 316 : 424);
  const curve = reading.curve.kind === 'fitted' ? reading.curve.curve : null;

  /** Places on the strip's row, which begins where the time axis does. */
  const place = (seconds: number): number =>
    frame ? (seconds > 0 ? frame.time.place(seconds) : (frame.time.basePx ?? 0)) - frame.time.leftPx : 0;

  return (
    <div class="stage" ref={ref}>
      {frame && (
        <>
          <Plot reading={reading} frame={frame} answer={answer} />
          {curve && answer.targetL !== null && (
            <TargetHandle
              frame={frame}
              L={answer.targetL}
              baseL={curve.baseL}
              deepestL={curve.deepestL}
              valueText={words.target.sliderText(
                formatNumber(answer.targetL, 1),
                formatNumber(depthPercent(curve, answer.targetL), 0),
                answer.roundedSeconds === null
                  ? words.target.sliderNoTime
                  : formatTime(answer.roundedSeconds),
              )}
              onMove={(L) => onTarget({ kind: 'L', L })}
            />
          )}
          <div class="strip-row" style={{ marginLeft: `${frame.time.leftPx}px` }}>
            {answer.low !== null && answer.high !== null && (
              <span
                class="strip-interval"
                style={{
                  left: `${place(answer.low)}px`,
                  width: `${Math.max(2, place(answer.high) - place(answer.low))}px`,
                }}
              />
            )}
            {reading.steps.map((step, i) => {
              const mark = reading.marks.steps[i];
              const width =
                step.seconds > 0
                  ? frame.time.cellPx
                  : Math.min(frame.time.cellPx, (frame.time.breakPx ?? 0) - frame.time.leftPx - 4);
              return (
                <div
                  key={i}
                  class="strip-cell"
                  style={{ left: `${place(step.seconds) - width / 2}px`, width: `${width}px` }}
                >
                  {mark && <Crop preview={preview} quad={mark.quad} />}
                  <span class="cell-colour" style={{ backgroundColor: cssColour(step) }} />
                  <span class="cell-verdict">
                    {step.seconds > 0 && <VerdictSign verdict={step.verdict} />}
                    <span class={width > 84 ? '' : 'unseen'}>
                      {step.seconds > 0 ? words.steps.verdictWord[step.verdict] : words.stage.unexposed}
                    </span>
                  </span>
                </div>
              );
            })}
            {answer.seconds !== null && (
              <span class="strip-answer" style={{ left: `${place(answer.seconds)}px` }} />
            )}
          </div>
        </>
      )}
    </div>
  );
};
