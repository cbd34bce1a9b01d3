import { describe, expect, it } from 'vitest';
import { patchesOf } from '../../web/ownPatches.ts';

describe('patchesOf', () => {
  it('takes Y, L* and density, with a decimal point or comma', () => {
    const typed = patchesOf([
      { name: ' white ', measure: 'Y', value: '0.9' },
      { name: 'grey', measure: 'L', value: '49,5' },
      { name: 'black', measure: 'density', value: '1.45' },
      { name: 'not filled in', measure: 'Y', value: '' },
    ]);
    expect(typed).toEqual({
      kind: 'patches',
      patches: [
        { name: 'white', Y: 0.9 },
        { name: 'grey', L: 49.5 },
        { name: 'black', density: 1.45 },
      ],
    });
  });

  it.each([
    ['an 18 for 18 %', [{ name: 'grey', measure: 'Y', value: '18' }], 'Y'],
    ['an L* of 120', [{ name: 'grey', measure: 'L', value: '120' }], 'L'],
    ['words for a density', [{ name: 'grey', measure: 'density', value: 'dark' }], 'density'],
    ['a patch without a name', [{ name: ' ', measure: 'Y', value: '0.18' }], 'name'],
    ['no values at all', [{ name: 'grey', measure: 'Y', value: '' }], 'none'],
    [
      'two patches of one name',
      [
        { name: 'grey', measure: 'Y', value: '0.18' },
        { name: 'grey', measure: 'Y', value: '0.2' },
      ],
      'name',
    ],
  ] as const)('says what to put right about %s', (_, drafts, problem) => {
    expect(patchesOf(drafts)).toEqual({ kind: 'problem', problem });
  });
});
