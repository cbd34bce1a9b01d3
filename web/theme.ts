import { effect, signal } from '@preact/signals';
import { place } from './address.ts';
import { keepText, keptText } from './kept.ts';

export const THEMES = ['system', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

const KEY = 'tonestep.theme';
const dark = matchMedia('(prefers-color-scheme: dark)');
const kept = keptText(KEY);

/** The brightness that the visitor chose. */
export const chosenTheme = signal<Theme>(THEMES.find((name) => name === kept) ?? 'system');

/** Whether the device asks for a dark page. */
const deviceDark = signal(dark.matches);
dark.addEventListener('change', (event) => {
  deviceDark.value = event.matches;
});

export const isDark = (): boolean =>
  chosenTheme.value === 'system' ? deviceDark.value : chosenTheme.value === 'dark';

const DIM_KEY = 'tonestep.dim';

/** Red on black for a darkened room: on the clock alone. A page opened anew must not light the room up. */
export const dimmed = signal(keptText(DIM_KEY) === 'on');

effect(() => {
  document.documentElement.dataset.theme =
    dimmed.value && place.value.view === 'run' ? 'dim' : isDark() ? 'dark' : 'light';
});

export const dim = (on: boolean): void => {
  dimmed.value = on;
  keepText(DIM_KEY, on ? 'on' : null);
};

export const chooseTheme = (theme: Theme): void => {
  chosenTheme.value = theme;
  keepText(KEY, theme);
};
