import type { Layout } from './covers.ts';
import type { LightKind } from './start.ts';

/** What to know while exposing; holds for every plan of its kind, so it is no warning. */
export interface Note {
  readonly code: string;
  readonly text: string;
  /** Key of docs/sources.md. */
  readonly source: string;
}

/**
 * What should the printer know about the light and the cover while making this strip? Names intermittency, lamp
 * warm-up, uneven light along the bed and a sun that does not repeat.
 */
export function planNotes(
  light: LightKind,
  layout: Layout,
  lampDuringMoves: 'on' | 'off',
  stepCount: number,
): Note[] {
  return [
    intermittency(layout, lampDuringMoves, stepCount),
    ...(light === 'tubes' || light === 'other' ? [warmUp(layout, lampDuringMoves)] : []),
    ...(light === 'sun' ? SUN : []),
    place(layout),
    ...(layout.kind === 'strip' ? [COVER] : []),
    WASH,
  ];
}

function intermittency(layout: Layout, lampDuringMoves: 'on' | 'off', stepCount: number): Note {
  const source = 'domain-1.14';
  if (layout.kind === 'scraps' && layout.exposed === 'in-turn') {
    return {
      code: 'one-stretch',
      text: 'Every scrap gets its light in one stretch, as the piece will.',
      source,
    };
  }
  return lampDuringMoves === 'on'
    ? {
        code: 'one-stretch',
        text: 'Leave the light burning while the cover moves: every step then gets its light in one stretch, as the piece will.',
        source,
      }
    : {
        code: 'intermittency',
        text: `The light goes off for every move, so a step gets its time in up to ${stepCount} bursts. Several short exposures may not equal one long one of the same total (intermittency). Leave the light burning if you can; otherwise check the final time on a scrap in one stretch.`,
        source,
      };
}

function warmUp(layout: Layout, lampDuringMoves: 'on' | 'off'): Note {
  const switching =
    lampDuringMoves === 'off' || (layout.kind === 'scraps' && layout.exposed === 'in-turn')
      ? ' Every switch-on of cold tubes loses light: shutter them between bursts rather than switching.'
      : '';
  return {
    code: 'lamp-warm-up',
    text: `Let the tubes burn 5 to 10 min before the first exposure, behind a shutter or with everything covered.${switching}`,
    source: 'domain-4.5',
  };
}

const SUN: readonly Note[] = [
  {
    code: 'sun-does-not-repeat',
    text: 'The sun will not repeat this strip. Note sky, clock and angle, and lay a control scrap beside every piece.',
    source: 'domain-4.16',
  },
  {
    code: 'sun-protection',
    text: 'Protect skin and eyes in the sun as well; check the local ultraviolet index.',
    source: 'domain-5',
  },
];

function place(layout: Layout): Note {
  if (layout.kind === 'scraps' && layout.exposed === 'in-turn') {
    return {
      code: 'same-place',
      text: 'Lay every scrap on the same spot, in the middle of the bed.',
      source: 'common practice',
    };
  }
  return layout.kind === 'scraps'
    ? {
        code: 'mixed-order',
        text: 'Lay the scraps in the order given, short and long mixed, or an uneven light passes for exposure.',
        source: 'domain-6.10',
      }
    : {
        code: 'middle-of-bed',
        text: 'The steps lie in a row, so an uneven light passes for exposure: use the middle of the bed, and turn a second strip end for end.',
        source: 'domain-6.10',
      };
}

const COVER: Note = {
  code: 'cover',
  text: 'Use a cover that ultraviolet cannot pass; it lies flat and does not drag the cloth. Light creeps under its edge: only the middle of each step is read.',
  source: 'domain-1.16',
};

const WASH: Note = {
  code: 'same-wash',
  text: 'Wash and dry all steps and the base together, as the piece will be.',
  source: 'common practice',
};
