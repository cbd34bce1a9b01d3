import { measureSpeed } from './speed.ts';
import { row } from './tables.ts';

// The bench's part on speed by itself: `npx tsx tests/bench/speedAlone.ts`.
for await (const line of measureSpeed()) process.stdout.write(`${row(line)}\n`);
