/** The part of Little CMS's WebAssembly build that reading a profile takes. Handles are addresses; 0 is failure. */
declare module 'lcms-wasm' {
  export interface Lcms {
    readonly HEAPU8: Uint8Array;
    _malloc(bytes: number): number;
    _free(address: number): void;
    _cmsOpenProfileFromMem(address: number, bytes: number): number;
    cmsCloseProfile(profile: number): void;
    cmsCreateXYZProfile(): number;
    cmsCreateLab4Profile(white: null): number;
    cmsGetProfileInfoASCII(profile: number, info: number, language: string, country: string): string;
    cmsGetColorSpaceASCII(profile: number): string | null;
    cmsReadTag(profile: number, signature: number): number;
    cmsReadTag_XYZ(profile: number, signature: number): Float64Array | null;
    cmsCreateTransform(
      input: number,
      inputFormat: number,
      output: number,
      outputFormat: number,
      intent: number,
      flags: number,
    ): number;
    cmsDeleteTransform(transform: number): void;
    cmsDoTransform<Out extends Float32Array | Uint16Array>(
      transform: number,
      samples: Float32Array | Uint8Array | Uint16Array,
      pixels: number,
    ): Out;
  }
  export function instantiate(options: {
    print(text: string): void;
    printErr(text: string): void;
  }): Promise<Lcms>;
  export const cmsInfoDescription: number;
  export const INTENT_RELATIVE_COLORIMETRIC: number;
  export const cmsFLAGS_NOOPTIMIZE: number;
  export const cmsFLAGS_NOCACHE: number;
  export const cmsFLAGS_HIGHRESPRECALC: number;
  export const TYPE_RGB_8: number;
  export const TYPE_RGB_16: number;
  export const TYPE_Lab_16: number;
}
