/** Linear device light of three channels, each nominally 0..1 (1 = the file's white). */
export type Rgb = readonly [red: number, green: number, blue: number];

/** How a file's code values become light: one curve per channel and a matrix. */
export interface RgbProfile {
  readonly name: string;
  readonly origin: 'embedded' | 'assumed-srgb';
  /** Per channel `maxCode + 1` entries: code value -> linear device light 0..1. */
  readonly linear: readonly [Float32Array, Float32Array, Float32Array];
  /** 3×3, row-major: linear device light -> CIE XYZ with the D65 white at Y = 1. Never clipped. */
  readonly toXyz65: readonly number[];
}

/** An upright photo as its file holds it: code values, and the profile that turns them into light. */
export interface Photo {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Size of the photo itself, where the file was decoded to fewer pixels than it holds. */
  readonly full?: { readonly widthPx: number; readonly heightPx: number };
  /** Code values, row-major from the top left, R G B interleaved: length 3·widthPx·heightPx. */
  readonly codes: Uint8Array | Uint16Array;
  readonly maxCode: 255 | 65535;
  readonly profile: RgbProfile;
  /** One entry per pixel, 1 where the file had clipped it; only where `codes` were restated and no longer tell. */
  readonly clippedInFile?: Uint8Array;
  readonly format: 'jpeg' | 'png' | 'webp' | 'tiff' | 'avif' | 'heic';
}
