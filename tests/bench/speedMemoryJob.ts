import { existsSync, readFileSync } from 'node:fs';
import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';

// A child process of the bench: does one job on one photo, then says how much memory it took at most, in bytes.
const [job, photoFile, stripFile] = process.argv.slice(2);
if (job !== 'nothing') {
  const bytes = readFileSync(photoFile);
  const { strip, marks } = JSON.parse(readFileSync(stripFile, 'utf8'));
  if (job === 'decode') await decodePhoto(bytes);
  else await readStrip(bytes, parseStrip(strip), marks === null ? {} : { marks: parseMarks(marks) });
}
// Linux counts what the parent held into maxRSS; VmHWM, in kB, is the process's own.
const own = existsSync('/proc/self/status')
  ? /VmHWM:\s*(\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))
  : null;
process.stdout.write(String(1024 * Number(own?.[1] ?? process.resourceUsage().maxRSS)));
