import { cmsInfoDescription, instantiate, type Lcms } from 'lcms-wasm';
import { colourUnsupported } from './colourUnsupported.ts';

/** An ICC profile opened for reading. */
export interface Icc {
  readonly lcms: Lcms;
  readonly profile: number;
  readonly name: string;
  readonly space: 'RGB' | 'GRAY';
}

const silent = () => {};

/**
 * What kind of profile is this? In an engine of its own, collected as a whole when the photo is read, so that a
 * faulty profile can't disturb the next one.
 *
 * Throws `profile-unsupported` for bytes that are no profile and for profiles of inks or other spaces.
 */
export async function openIcc(bytes: Uint8Array): Promise<Icc> {
  const lcms = await instantiate({ print: silent, printErr: silent });
  const address = lcms._malloc(bytes.length);
  lcms.HEAPU8.set(bytes, address);
  const profile = lcms._cmsOpenProfileFromMem(address, bytes.length);
  lcms._free(address);
  if (profile === 0) throw colourUnsupported('The photo’s colour profile is damaged.', 'profile-damaged');
  const space = lcms.cmsGetColorSpaceASCII(profile);
  if (space !== 'RGB' && space !== 'GRAY') {
    throw colourUnsupported(
      `The photo’s colour profile is for ${space ?? 'another kind of colour'}, not for RGB.`,
      'profile-space',
      space ?? '',
    );
  }
  const name = lcms.cmsGetProfileInfoASCII(profile, cmsInfoDescription, 'en', 'US').trim();
  return { lcms, profile, name: name === '' ? 'unnamed profile' : name, space };
}

/** A tag's four letters as the number that the engine takes. */
export function signature(letters: string): number {
  return [...letters].reduce((number, letter) => (number << 8) | letter.charCodeAt(0), 0);
}

/** Does this profile go through tables of measured colours instead of a matrix? */
export function hasTables({ lcms, profile, space }: Icc): boolean {
  return (
    space === 'RGB' &&
    ['A2B0', 'A2B1', 'D2B0', 'D2B1'].some((tag) => lcms.cmsReadTag(profile, signature(tag)) !== 0)
  );
}
