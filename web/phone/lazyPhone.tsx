import type { ComponentType } from 'preact';
import { lazyView } from '../lazyView.tsx';

const nothing: ComponentType = () => null;

export const UsePhonePart = lazyView(async () => (await import('./UsePhone.tsx')).UsePhone, nothing);
export const SendPhotoPart = lazyView(async () => (await import('./SendPhoto.tsx')).SendPhoto, nothing);
