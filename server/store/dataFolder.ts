import { homedir } from 'node:os';
import { isAbsolute, join, resolve, sep } from 'node:path';

/** Where a machine's programs keep what is a person's own. */
interface Machine {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly platform: NodeJS.Platform;
  readonly home: string;
}

const thisMachine = (): Machine => ({ env: process.env, platform: process.platform, home: homedir() });

const given = (text: string | undefined): string | null =>
  text === undefined || text.trim() === '' ? null : text.trim();

/**
 * The folder of the book: TONESTEP_DATA, else the usual place of this system for a person's data (XDG base directories,
 * Application Support, LocalAppData).
 */
export const dataFolder = ({ env, platform, home }: Machine = thisMachine()): string => {
  const chosen = given(env.TONESTEP_DATA);
  if (chosen) return resolve(chosen.replace(/^~(?=$|[/\\])/, home));
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Tonestep');
  if (platform === 'win32')
    return join(given(env.LOCALAPPDATA) ?? join(home, 'AppData', 'Local'), 'Tonestep');
  const xdg = given(env.XDG_DATA_HOME);
  // A relative path is invalid there and to be ignored (XDG Base Directory Specification 0.8).
  return join(xdg && isAbsolute(xdg) ? xdg : join(home, '.local', 'share'), 'tonestep');
};

/** The folder as a person may be shown it: "~/…" within the home folder, else only its last part. */
export const shortPlace = (folder: string, home: string = homedir()): string => {
  const parts = folder.split(/[/\\]/).filter(Boolean);
  return folder === home || folder.startsWith(home + sep)
    ? `~${folder.slice(home.length)}`.replaceAll('\\', '/')
    : `…/${parts.at(-1) ?? ''}`;
};
