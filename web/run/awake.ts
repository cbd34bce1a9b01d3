import { signal } from '@preact/signals';

/** Whether the screen is kept from going dark: null while it need not be. */
export const screenAwake = signal<boolean | null>(null);

let lock: WakeLockSentinel | null = null;
let wanted = false;

const ask = async (): Promise<void> => {
  if (!wanted || document.visibilityState !== 'visible' || (lock && !lock.released)) return;
  try {
    lock = await navigator.wakeLock.request('screen');
    screenAwake.value = true;
    lock.addEventListener('release', () => {
      if (wanted && document.visibilityState === 'visible') screenAwake.value = false;
    });
  } catch {
    screenAwake.value = false;
  }
};

document.addEventListener('visibilitychange', ask);

/** Keeps the screen on from now on, where the browser can; asks again whenever the page comes back into view. */
export const stayAwake = (): void => {
  wanted = true;
  if (!('wakeLock' in navigator)) {
    screenAwake.value = false;
    return;
  }
  ask();
};

export const maySleep = (): void => {
  wanted = false;
  screenAwake.value = null;
  lock?.release().catch(() => undefined);
  lock = null;
};
