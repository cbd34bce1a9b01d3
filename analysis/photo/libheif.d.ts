/** The part of libheif's WebAssembly build that reading one still picture takes. */
declare module 'libheif-js/libheif-wasm/libheif-bundle.mjs' {
  export interface HeifError {
    readonly code: unknown;
    readonly message: string;
  }
  export interface Owned {
    readonly $$: { readonly ptr: number };
  }
  export interface Plane {
    readonly id: unknown;
    readonly width: number;
    readonly height: number;
    readonly stride: number;
    readonly data: Uint8Array;
  }
  export interface Decoded {
    readonly image: Owned;
    readonly channels: readonly Plane[];
  }
  export interface LibHeif {
    readonly HEAPU8: Uint8Array;
    readonly HEAPU32: Uint32Array;
    readonly heif_error_code: { readonly heif_error_Ok: unknown };
    readonly heif_colorspace: { readonly heif_colorspace_RGB: unknown };
    readonly heif_chroma: {
      readonly heif_chroma_interleaved_RGB: unknown;
      readonly heif_chroma_interleaved_RGBA: unknown;
      readonly heif_chroma_interleaved_RRGGBB_LE: unknown;
      readonly heif_chroma_interleaved_RRGGBBAA_LE: unknown;
    };
    readonly heif_channel: { readonly heif_channel_interleaved: unknown };
    heif_context_alloc(): Owned;
    heif_context_read_from_memory(context: Owned, bytes: Uint8Array): HeifError;
    heif_js_context_get_primary_image_handle(context: Owned): Owned | HeifError;
    heif_image_handle_get_width(handle: Owned): number;
    heif_image_handle_get_height(handle: Owned): number;
    heif_image_handle_has_alpha_channel(handle: Owned): number;
    heif_js_decode_image2(handle: Owned, space: unknown, chroma: unknown): Promise<Decoded | HeifError>;
    _heif_image_handle_get_luma_bits_per_pixel(handle: number): number;
    _malloc(bytes: number): number;
    _heif_image_handle_get_raw_color_profile_size(handle: number): number;
    _heif_image_handle_get_raw_color_profile(error: number, handle: number, to: number): void;
    _heif_image_handle_get_nclx_color_profile(error: number, handle: number, to: number): void;
  }
  export default function instantiate(): LibHeif | Promise<LibHeif>;
}
