import { execFile } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { TimedPhoto } from './speedPhotos.ts';

/** Most memory that a process of its own takes to read this photo, in MB (of 1000² bytes); the program included. */
export const peakMegabytes = async (
  photo: TimedPhoto,
  folder: string,
  job: 'read' | 'decode' | 'nothing',
): Promise<number> => {
  const [photoFile, stripFile] = [join(folder, 'memory.photo'), join(folder, 'memory.json')];
  writeFileSync(photoFile, photo.bytes);
  writeFileSync(stripFile, JSON.stringify({ strip: photo.strip, marks: photo.marks }));
  const { stdout } = await promisify(execFile)(process.execPath, [
    '--import',
    'tsx',
    join(import.meta.dirname, 'speedMemoryJob.ts'),
    job,
    photoFile,
    stripFile,
  ]);
  return Number(stdout) / 1e6;
};
