import { colourAt, lightnessAt } from '../../analysis/curve/evaluate.ts';
import type { Advice, Reading } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { curvePath, type PlotFrame, Z90 } from '../plotFrame.ts';
import { roomForLabels } from '../timeAxis.ts';
import { formatTime } from '../times.ts';
import { cssColour, cssGrey } from '../trueColour.ts';
import { words } from '../words.ts';

const LABEL_PX = 44;
/** Times nearer than this to the answer make room for it. */
const FLAG_PX = 48;

const lightnessTicks = ({ lightestL, darkestL }: PlotFrame): readonly number[] => {
  const every = lightestL - darkestL > 45 ? 20 : 10;
  const ticks: number[] = [];
  for (let L = Math.ceil(darkestL / every) * every; L <= lightestL; L += every) ticks.push(L);
  return ticks;
};

/** Ticks at thirds of a stop, counted from the shortest exposed step. */
const stopTicks = ({ time }: PlotFrame, shortest: number): readonly { x: number; third: number }[] => {
  const from = Math.ceil(3 * Math.log2(time.firstSeconds / shortest));
  const to = Math.floor(3 * Math.log2(time.lastSeconds / shortest));
  return Array.from({ length: to - from + 1 }, (_, i) => ({
    x: time.place(shortest * 2 ** ((from + i) / 3)),
    third: from + i,
  }));
};

const stopsLabel = (stops: number): string => (stops > 0 ? `+${stops}` : stops < 0 ? `−${-stops}` : '0');

/** The curve of a strip: L* down, time along in equal stops, what is sure and what is not. */
export const Plot = ({ reading, frame, answer }: { reading: Reading; frame: PlotFrame; answer: Advice }) => {
  const { time, topPx, floorPx, rulerPx, bandPx, widthPx, heightPx, placeL } = frame;
  const { steps, strip } = reading;
  const curve = reading.curve.kind === 'fitted' ? reading.curve.curve : null;
  const exposed = steps.filter((step) => step.seconds > 0);
  const longest = exposed[exposed.length - 1].seconds;
  const start = time.breakPx ?? time.leftPx;
  const bandTop = floorPx + rulerPx;
  const places = exposed.map((step) => time.place(step.seconds));
  const labelled = roomForLabels(places, LABEL_PX);
  const { targetL, seconds, low, high } = answer;
  const answerX = seconds === null ? null : time.place(seconds);

  return (
    <svg
      class="plot"
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      role="img"
      aria-label={words.stage.plotLabel(strip.dye || words.form.dye, strip.cloth || words.form.cloth)}
    >
      <defs>
        <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0V6" class="hatch" />
        </pattern>
        {curve && (
          <>
            <linearGradient id="scale" x1="0" x2="0" y1="0" y2="1">
              {Array.from({ length: 9 }, (_, i) => (
                <stop
                  key={i}
                  offset={i / 8}
                  style={{
                    stopColor: cssGrey(frame.lightestL + ((frame.darkestL - frame.lightestL) * i) / 8),
                  }}
                />
              ))}
            </linearGradient>
            <linearGradient id="colours">
              {Array.from({ length: 33 }, (_, i) => (
                <stop
                  key={i}
                  offset={i / 32}
                  style={{
                    stopColor: cssColour(
                      colourAt(curve, time.secondsAt(start + ((time.rightPx - start) * i) / 32)),
                    ),
                  }}
                />
              ))}
            </linearGradient>
          </>
        )}
      </defs>

      {lightnessTicks(frame).map((L) => (
        <g key={L}>
          <path d={`M${time.leftPx} ${placeL(L)}H${widthPx}`} class="grid" />
          <text x={time.leftPx - 9} y={placeL(L) + 4} class="tick" text-anchor="end">
            {formatNumber(L, 0)}
          </text>
        </g>
      ))}
      {curve && <rect x={time.leftPx - 5} y={topPx} width="5" height={floorPx - topPx} fill="url(#scale)" />}
      <text x={time.leftPx - 9} y={topPx - 11} class="tick" text-anchor="end">
        L*
      </text>
      <text x={time.leftPx + 2} y={topPx - 11} class="tick">
        {time.basePx === null ? '' : words.stage.stops}
      </text>

      <path d={`M${start} ${topPx}H${widthPx}`} class="axis" />
      {stopTicks(frame, exposed[0].seconds).map(({ x, third }) => (
        <g key={x}>
          <path d={`M${x} ${topPx}v${third % 3 === 0 ? -7 : -4}`} class="axis" />
          {third % 3 === 0 && x > start + 6 && x < widthPx - 8 && (
            <text x={x} y={topPx - 11} class="tick" text-anchor="middle">
              {stopsLabel(third / 3)}
            </text>
          )}
        </g>
      ))}

      {low !== null && high !== null && (
        <g>
          <rect
            x={time.place(low)}
            y={topPx}
            width={Math.max(2, time.place(high) - time.place(low))}
            height={bandTop - topPx}
            class="interval"
          />
          <rect
            x={time.place(low)}
            y={topPx}
            width={Math.max(2, time.place(high) - time.place(low))}
            height={bandTop - topPx}
            fill="url(#hatch)"
          />
        </g>
      )}

      {curve && (
        <>
          <path
            d={curvePath(frame, (s) => lightnessAt(curve, s), time.firstSeconds, longest)}
            class="curve"
          />
          <path
            d={curvePath(frame, (s) => lightnessAt(curve, s), longest, time.lastSeconds)}
            class="curve beyond"
          />
          {time.basePx !== null && (
            <path d={`M${time.leftPx + 4} ${placeL(curve.baseL)}H${start}`} class="curve beyond" />
          )}
        </>
      )}

      {targetL !== null && (
        <g>
          <path d={`M${time.leftPx} ${placeL(targetL)}H${widthPx}`} class="target" />
          {answerX !== null && <path d={`M${answerX} ${placeL(targetL)}V${heightPx}`} class="target drop" />}
        </g>
      )}

      {steps.map((step, i) => {
        const x = step.seconds > 0 ? time.place(step.seconds) : (time.basePx ?? time.leftPx);
        return (
          <g key={i}>
            <path
              d={`M${x} ${placeL(step.L + Z90 * step.uL)}V${placeL(step.L - Z90 * step.uL)}`}
              class="bar"
            />
            <circle cx={x} cy={placeL(step.L)} r="6" class="point" style={{ fill: cssColour(step) }} />
          </g>
        );
      })}

      {time.breakPx !== null && (
        <path
          d={`M${time.breakPx - 3} ${floorPx + 5}l4 -10M${time.breakPx + 2} ${floorPx + 5}l4 -10`}
          class="axis"
        />
      )}
      <path d={`M${time.leftPx} ${floorPx}H${widthPx}`} class="axis" />
      {places.map((x) => (
        <path key={x} d={`M${x} ${floorPx}v8`} class="axis" />
      ))}
      <text x={time.leftPx - 2} y={floorPx + 23} class="tick" text-anchor="end">
        {words.stage.minutes}
      </text>
      {time.basePx !== null && !(answerX !== null && Math.abs(answerX - time.basePx) < FLAG_PX) && (
        <text x={time.basePx} y={floorPx + 23} class="tick" text-anchor="middle">
          {words.stage.base}
        </text>
      )}
      {exposed.map(
        (step, i) =>
          labelled[i] &&
          !(answerX !== null && Math.abs(answerX - places[i]) < FLAG_PX) && (
            <text key={i} x={places[i]} y={floorPx + 23} class="tick" text-anchor="middle">
              {formatTime(step.seconds)}
            </text>
          ),
      )}

      {curve && (
        <>
          {time.basePx !== null && (
            <rect
              x={time.leftPx}
              y={bandTop}
              width={start - time.leftPx - 2}
              height={bandPx}
              style={{ fill: cssColour(colourAt(curve, 0)) }}
            />
          )}
          <rect
            x={start + (time.basePx === null ? 0 : 2)}
            y={bandTop}
            width={time.rightPx - start - 2}
            height={bandPx}
            fill="url(#colours)"
          />
        </>
      )}
      {answerX !== null && answer.roundedSeconds !== null && (
        <g>
          <path d={`M${answerX} ${bandTop}V${heightPx}`} class="target drop" />
          <g transform={`translate(${Math.min(widthPx - 26, Math.max(26, answerX))} ${floorPx + 5})`}>
            <rect x="-26" y="0" width="52" height="23" rx="2" class="flag" />
            <text x="0" y="17" class="flag-text" text-anchor="middle">
              {formatTime(answer.roundedSeconds)}
            </text>
          </g>
        </g>
      )}
    </svg>
  );
};
