// Loaded into the server before anything else: tells at the end how long its event loop was kept from its work.
import { writeFileSync } from 'node:fs';
import { monitorEventLoopDelay } from 'node:perf_hooks';

const delay = monitorEventLoopDelay({ resolution: 5 });
// Started up and warm before the load comes.
process.once('SIGUSR2', () => {
  delay.reset();
  delay.enable();
});
process.once('exit', () => {
  const ms = (nanoseconds) => nanoseconds / 1e6 - 5;
  const peakBytes = process.resourceUsage().maxRSS * 1024;
  writeFileSync(
    process.env.LOOP_DELAY_FILE,
    JSON.stringify({
      p50: ms(delay.percentile(50)),
      p99: ms(delay.percentile(99)),
      max: ms(delay.max),
      peakBytes,
    }),
  );
});
