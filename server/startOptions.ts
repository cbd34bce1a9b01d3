import type { LanAddress } from './lan.ts';

/** What the words after `start` ask for. */
export type StartOptions =
  | { readonly kind: 'loopback' }
  | { readonly kind: 'lan'; readonly addresses: readonly [LanAddress, ...LanAddress[]] }
  | { readonly kind: 'refused'; readonly sentence: string };

const refused = (sentence: string): StartOptions => ({ kind: 'refused', sentence });

/** `--lan` for all addresses of this machine on local networks, `--lan=ADDRESS` for one of them. */
export const startOptions = (words: readonly string[], found: readonly LanAddress[]): StartOptions => {
  const unknown = words.find((word) => word !== '--lan' && !word.startsWith('--lan='));
  if (unknown !== undefined)
    return refused(`"${unknown}" is not known here. Start with --lan for phones, or with nothing.`);
  const last = words.at(-1);
  if (last === undefined) return { kind: 'loopback' };
  const [first, ...others] = found;
  if (first === undefined)
    return refused(
      'This computer is on no local network, so no phone could reach it. Join the Wi-Fi, then start again; without --lan the page opens on this computer alone.',
    );
  if (last === '--lan') return { kind: 'lan', addresses: [first, ...others] };
  const wanted = last.slice('--lan='.length);
  const one = found.find(({ address }) => address === wanted);
  if (one) return { kind: 'lan', addresses: [one] };
  return refused(
    `"${wanted}" is not an address of this computer on a local network. It has: ${found.map((a) => a.address).join(', ')}.`,
  );
};
