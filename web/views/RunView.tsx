import { words } from '../words.ts';
export const RunView = () => (
  <main id="main" tabIndex={-1}>
    <h1>{words.plan.heading}</h1>
  </main>
);
