import { signal } from '@preact/signals';
import { keepText, keptText } from '../kept.ts';

const KEY = 'tonestep.sound';

/** Whether tones can be heard: off until somebody taps, as browsers want it. */
export const soundState = signal<'off' | 'on' | 'lost'>(keptText(KEY) === 'on' ? 'lost' : 'off');

let context: AudioContext | null = null;
let planned: OscillatorNode[] = [];

const SHORT_HZ = 740;
const LONG_HZ = 988;
const LOUD = 0.5;

const tone = (sound: AudioContext, at: number, hertz: number, seconds: number): void => {
  const oscillator = sound.createOscillator();
  const gain = sound.createGain();
  oscillator.type = 'square';
  oscillator.frequency.value = hertz;
  gain.gain.setValueAtTime(0, at);
  gain.gain.linearRampToValueAtTime(LOUD, at + 0.01);
  gain.gain.setValueAtTime(LOUD, at + seconds - 0.02);
  gain.gain.linearRampToValueAtTime(0, at + seconds);
  oscillator.connect(gain).connect(sound.destination);
  oscillator.start(at);
  oscillator.stop(at + seconds);
  planned.push(oscillator);
};

/** Three short tones before a move, a long one at it; two long ones at the end. */
const cue = (sound: AudioContext, at: number, end: boolean): void => {
  for (const before of [3, 2, 1])
    if (at - before > sound.currentTime) tone(sound, at - before, SHORT_HZ, 0.12);
  tone(sound, at, LONG_HZ, 0.9);
  if (end) tone(sound, at + 1.2, LONG_HZ, 0.9);
};

/** Switches the sound on; only a tap or a key may do it. */
export const openSound = async (): Promise<void> => {
  context ??= new AudioContext();
  await context.resume();
  soundState.value = context.state === 'running' ? 'on' : 'lost';
  keepText(KEY, 'on');
  context.onstatechange = () => {
    if (soundState.value === 'on' && context?.state !== 'running') soundState.value = 'lost';
  };
};

export const closeSound = (): void => {
  silence();
  keepText(KEY, 'off');
  soundState.value = 'off';
};

/** Takes back all tones that are still to come. */
export const silence = (): void => {
  for (const oscillator of planned) {
    try {
      oscillator.stop();
    } catch {
      // It was over already.
    }
  }
  planned = [];
};

/** Lays all tones that are still to come ahead of time, so that a page in the background sounds on time too. */
export const planSound = (cues: readonly { readonly inSeconds: number; readonly end: boolean }[]): void => {
  silence();
  if (!context || soundState.value !== 'on') return;
  for (const { inSeconds, end } of cues)
    if (inSeconds > -0.2) cue(context, context.currentTime + Math.max(0, inSeconds), end);
};

export const trySound = async (): Promise<void> => {
  await openSound();
  if (context) cue(context, context.currentTime + 0.05, false);
};

/** Reading of the sound's own clock, in seconds; null while it is silent. Ran it on, what was planned was heard. */
export const soundClock = (): number | null =>
  context && soundState.value === 'on' && context.state === 'running' ? context.currentTime : null;
