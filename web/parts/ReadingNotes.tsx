import type { Phrase } from '../../analysis/phrases.ts';
import type { Reading } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { plainReason } from '../sentences/plainReason.ts';
import { words } from '../words.ts';
import { Said, Warnings } from './Remarks.tsx';

/** A reason as the analysis words it, made a sentence of its own. */
const sentence = (reason: string): string =>
  `${reason.charAt(0).toUpperCase()}${reason.slice(1)}${/[.!?]$/.test(reason) ? '' : '.'}`;

/** Why this shape of curve: in plain words, and the comparison's own numbers behind them. */
const WhyThisCurve = ({ reason, phrase }: { reason: string; phrase?: Phrase | undefined }) => {
  const full = <Said text={reason} phrase={phrase} />;
  const plain = plainReason(phrase);
  return plain === null ? (
    full
  ) : (
    <>
      {plain}
      <details>
        <summary>{words.notes.inNumbers}</summary>
        {full}
      </details>
    </>
  );
};

/** Warnings first, then how the light was evened and the camera's tone undone. */
export const ReadingNotes = ({ reading }: { reading: Reading }) => {
  const { warnings, illumination, tone, curve, repeatability, methodVersion } = reading;
  const { remarks, remarkPhrases } =
    curve.kind === 'fitted' ? curve.curve : { remarks: [], remarkPhrases: undefined };
  return (
    <section class="notes" aria-labelledby="notes-heading">
      <h2 id="notes-heading">{words.notes.heading}</h2>
      {warnings.length + remarks.length === 0 ? (
        <p>{words.notes.none}</p>
      ) : (
        <>
          <Warnings warnings={warnings} />
          {remarks.length > 0 && (
            <ul class="warnings">
              {remarks.map((remark, i) => (
                <li key={remark}>
                  <Said text={remark} phrase={remarkPhrases?.[i]} />
                </li>
              ))}
            </ul>
          )}
        </>
      )}
      <dl>
        <div>
          <dt>{words.notes.illumination[illumination.method]}</dt>
          <dd>
            {illumination.fallOffRatio !== null &&
              `${words.notes.fallOff(formatNumber(100 * (1 - 1 / illumination.fallOffRatio), 0))}. `}
            <Said text={sentence(illumination.reason)} phrase={illumination.phrase} />
          </dd>
        </div>
        <div>
          <dt>
            {words.notes.tone(
              tone.patchesUsed,
              formatNumber(tone.exponent, 2),
              formatNumber(100 * tone.flare, 1),
            )}
          </dt>
          <dd>
            {tone.relative && words.notes.relative}
            {tone.leaveOneOutL !== null &&
              sentence(words.notes.leaveOneOut(formatNumber(tone.leaveOneOutL, 1)))}
            {tone.patchesRefused.map(({ name, reason, phrase }) => (
              <p key={name}>
                {words.notes.refusedPatch(name)}: <Said text={reason} phrase={phrase} />
              </p>
            ))}
          </dd>
        </div>
        {repeatability !== null && (
          <div>
            <dt>{words.notes.photos(repeatability.photos)}</dt>
            <dd>
              {words.notes.agree(
                formatNumber(repeatability.measuredL, 2),
                formatNumber(repeatability.expectedL, 2),
              )}{' '}
              {repeatability.turned === true && words.notes.turned}
            </dd>
          </div>
        )}
        {curve.kind === 'fitted' && (
          <div>
            <dt>{words.stage.model[curve.curve.model]}</dt>
            <dd>
              <WhyThisCurve reason={curve.curve.reason} phrase={curve.curve.phrase} />
            </dd>
          </div>
        )}
      </dl>
      <p class="fine">{words.notes.method(methodVersion)}</p>
    </section>
  );
};
