import { families } from './families.ts';
import { outcomeOf } from './outcome.ts';

// A child process of the hostile run: tries the inputs that its parent names, one at a time, and says what became of
// each, so that the parent knows which one it was when this process hangs or dies.
const opened = new Map<string, Promise<(i: number) => unknown>>();

process.on('message', async ({ name, i }: { name: string; i: number }) => {
  const family = families.find((one) => one.name === name);
  if (!family) throw new Error(`there is no family "${name}"`);
  const ready = opened.get(name) ?? family.open();
  opened.set(name, ready);
  const run = await ready;
  process.send?.({ begun: true });
  const before = process.cpuUsage();
  const outcome = await outcomeOf(() => run(i));
  const { user, system } = process.cpuUsage(before);
  process.send?.({
    outcome,
    computedMs: (user + system) / 1000,
    peakBytes: process.resourceUsage().maxRSS * 1024,
  });
});
