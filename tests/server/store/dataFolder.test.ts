import { describe, expect, it } from 'vitest';
import { dataFolder, shortPlace } from '../../../server/store/dataFolder.ts';

const linux = { platform: 'linux', home: '/home/ada' } as const;

describe('the data folder', () => {
  it.each([
    // XDG Base Directory Specification 0.8: $HOME/.local/share unless XDG_DATA_HOME is set and absolute.
    ['Linux', { ...linux, env: {} }, '/home/ada/.local/share/tonestep'],
    ['Linux with XDG_DATA_HOME', { ...linux, env: { XDG_DATA_HOME: '/data' } }, '/data/tonestep'],
    [
      'Linux with a relative XDG_DATA_HOME',
      { ...linux, env: { XDG_DATA_HOME: 'data' } },
      '/home/ada/.local/share/tonestep',
    ],
    [
      'macOS',
      { platform: 'darwin', home: '/Users/ada', env: {} },
      '/Users/ada/Library/Application Support/Tonestep',
    ],
    ['a chosen place', { ...linux, env: { TONESTEP_DATA: '/books/mine' } }, '/books/mine'],
    ['a chosen place in the home folder', { ...linux, env: { TONESTEP_DATA: '~/book' } }, '/home/ada/book'],
    ['an empty choice', { ...linux, env: { TONESTEP_DATA: ' ' } }, '/home/ada/.local/share/tonestep'],
  ] as const)('on %s is where data of a person belongs', (_, machine, folder) => {
    expect(dataFolder(machine)).toBe(folder);
  });

  it('is shown as "~/…" in the home folder, and by its last part elsewhere', () => {
    expect(shortPlace('/home/ada/.local/share/tonestep', '/home/ada')).toBe('~/.local/share/tonestep');
    expect(shortPlace('/srv/secret/tonestep', '/home/ada')).toBe('…/tonestep');
    expect(shortPlace('/home/adalbert/tonestep', '/home/ada')).toBe('…/tonestep');
  });
});
