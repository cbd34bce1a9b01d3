import type { Cicp } from './cicp.ts';
import type { Icc } from './icc.ts';

/** Code values as a decoder gives them, upright, with what the file says about their colour. */
export interface Raster {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Size of the photo itself, where fewer pixels were decoded. */
  readonly full?: { readonly widthPx: number; readonly heightPx: number };
  /** R G B interleaved, row by row; grey files repeat their one channel. */
  readonly codes: Uint8Array | Uint16Array;
  readonly maxCode: 255 | 65535;
  /** The code of full light: a little below `maxCode` where 10 or 12 bits were widened to 16. */
  readonly whiteCode: number;
  readonly icc: Uint8Array | null;
  /** The same profile, where it was already being opened while the pixels were decoded. */
  readonly opening?: Promise<Icc>;
  readonly cicp: Cicp | null;
  /** True where only the EXIF data says that the colours are Adobe RGB. */
  readonly exifAdobeRgb?: boolean;
}
