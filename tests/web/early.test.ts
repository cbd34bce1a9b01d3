import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';

const web = resolve(import.meta.dirname, '../../web');
const early = readFileSync(resolve(web, 'public/early.js'), 'utf8');

/** What the first script makes of a page: its light, and the ground before the style sheet is there. */
const lightOf = (
  hash: string,
  deviceDark: boolean,
  kept: Readonly<Record<string, string>> | null,
): readonly [theme: string | undefined, ground: string] => {
  const dataset: { theme?: string } = {};
  const meta = { content: 'light dark' };
  runInNewContext(early, {
    document: { documentElement: { dataset }, querySelector: () => meta },
    location: { hash },
    matchMedia: () => ({ matches: deviceDark }),
    localStorage: {
      getItem: (key: string) => {
        if (kept === null) throw new Error('storage is refused');
        return kept[key] ?? null;
      },
    },
  });
  return [dataset.theme, meta.content];
};

describe('before the page’s own script runs', () => {
  it('the dimmed clock is dark already, on a device that is set to light; other views are not dimmed', () => {
    const kept = { 'tonestep.dim': 'on' };
    expect(lightOf('#/run', false, kept)).toEqual(['dim', 'dark']);
    expect(lightOf('#/plan', false, kept)).toEqual(['light', 'light']);
    expect(lightOf('#/running', false, kept)).toEqual(['light', 'light']);
  });

  it.each([
    ['dark', false, 'dark'],
    ['light', true, 'light'],
    ['system', true, 'dark'],
    ['system', false, 'light'],
  ] as const)('%s chosen, the device dark: %s, is %s', (theme, deviceDark, light) => {
    expect(lightOf('', deviceDark, { 'tonestep.theme': theme })).toEqual([light, light]);
  });

  it('goes by the device where storage is refused', () => {
    expect(lightOf('#/run', true, null)).toEqual(['dark', 'dark']);
  });

  it('the script comes before the page’s own, and looks where that keeps the choice', () => {
    const page = readFileSync(resolve(web, 'index.html'), 'utf8');
    expect(page.indexOf('src="/early.js"')).toBeGreaterThan(page.indexOf('name="color-scheme"'));
    expect(page.indexOf('src="/early.js"')).toBeLessThan(page.indexOf('type="module"'));
    const theme = readFileSync(resolve(web, 'theme.ts'), 'utf8');
    for (const [, key] of theme.matchAll(/KEY = '([^']+)'/g)) expect(early).toContain(`getItem('${key}')`);
    expect([...theme.matchAll(/KEY = '/g)]).toHaveLength(2);
  });
});
