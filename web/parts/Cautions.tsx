import { words } from '../words.ts';

export const Cautions = () => (
  <section class="cautions" aria-labelledby="cautions-heading">
    <h2 id="cautions-heading">{words.cautions.heading}</h2>
    <ul>
      {words.cautions.list.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  </section>
);
