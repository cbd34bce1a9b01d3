import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { RunningServer } from './runningServer.ts';

const demo = (file: string): string => resolve(import.meta.dirname, '../../fixtures/demo', file);

const answerOf = async (answer: Response): Promise<{ readonly line: { readonly id: string } }> => {
  const body = await answer.json();
  if (!answer.ok) throw new Error(JSON.stringify(body));
  return body;
};

/** Keeps a demo strip in the server's book over the address that the page uses; returns its id. */
export const keepDemo = async (
  { address }: RunningServer,
  name: string,
  purpose: 'calibration' | 'control' | 'print',
  exposedAt: string,
): Promise<string> => {
  const form = new FormData();
  form.set('photo', new Blob([readFileSync(demo(`${name}.jpg`))], { type: 'image/jpeg' }), `${name}.jpg`);
  form.set('strip', readFileSync(demo(`${name}.strip.json`), 'utf8'));
  form.set('marks', readFileSync(demo(`${name}.marks.json`), 'utf8'));
  form.set('context', JSON.stringify({ purpose, exposedAt, confirmed: true, lampHours: 120 }));
  const answer = await fetch(`${address}/api/record/readings`, {
    method: 'POST',
    body: form,
    headers: { Origin: address },
  });
  return (await answerOf(answer)).line.id;
};

/** Sends JSON to the server as its page does. */
export const postJson = async ({ address }: RunningServer, path: string, body: unknown): Promise<void> => {
  const answer = await fetch(`${address}${path}`, {
    method: 'POST',
    body: JSON.stringify(body),
    headers: { Origin: address, 'Content-Type': 'application/json' },
  });
  await answerOf(answer);
};
