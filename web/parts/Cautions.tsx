import { CAUTION_KEYS } from '../words/codes.ts';
import { words } from '../words.ts';

export const Cautions = () => (
  <section class="cautions" aria-labelledby="cautions-heading">
    <h2 id="cautions-heading">{words.cautions.heading}</h2>
    <ul>
      {CAUTION_KEYS.map((key) => (
        <li key={key}>{words.cautions.of[key]}</li>
      ))}
    </ul>
  </section>
);
