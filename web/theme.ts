import { signal } from '@preact/signals';

export type Theme = 'light' | 'dark';

const KEY = 'tonestep.theme';

const kept = (): Theme | null => {
  try {
    const theme = localStorage.getItem(KEY);
    return theme === 'light' || theme === 'dark' ? theme : null;
  } catch {
    return null;
  }
};

const wished = (): Theme => (matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light');

export const theme = signal<Theme>(kept() ?? wished());

const wear = (next: Theme): void => {
  theme.value = next;
  document.documentElement.dataset.theme = next;
};

wear(theme.value);

export const switchTheme = (): void => {
  const next = theme.value === 'dark' ? 'light' : 'dark';
  wear(next);
  try {
    localStorage.setItem(KEY, next);
  } catch {
    // Without storage the choice lasts as long as the page.
  }
};
