import type { Decoded, HeifError, LibHeif, Owned } from 'libheif-js/libheif-wasm/libheif-bundle.mjs';
import type { Cicp } from './cicp.ts';
import { damaged } from './damaged.ts';
import { opaqueOnly } from './opaque.ts';
import type { Raster } from './raster.ts';
import { checkSize } from './size.ts';

/** What a HEIF file says about its colour; a profile goes before code points. */
interface HeifColour {
  readonly icc: Uint8Array | null;
  readonly cicp: Cicp | null;
}

interface Opened {
  readonly lib: LibHeif;
  readonly handle: Owned;
}

/**
 * What does this HEIC hold? The main picture at the depth it is stored in (more than 8 bits widened to 16), turned and
 * mirrored as its own transform says: its EXIF orientation repeats that transform and is left alone.
 */
export async function readHeic(bytes: Uint8Array): Promise<Raster> {
  const opened = await open(bytes);
  const { lib, handle } = opened;
  checkSize(lib.heif_image_handle_get_width(handle), lib.heif_image_handle_get_height(handle));
  const alpha = lib.heif_image_handle_has_alpha_channel(handle) !== 0;
  const bits = lib._heif_image_handle_get_luma_bits_per_pixel(handle.$$.ptr);
  const wide = bits > 8;
  const chroma = lib.heif_chroma;
  const decoded = await lib.heif_js_decode_image2(
    handle,
    lib.heif_colorspace.heif_colorspace_RGB,
    wide
      ? alpha
        ? chroma.heif_chroma_interleaved_RRGGBBAA_LE
        : chroma.heif_chroma_interleaved_RRGGBB_LE
      : alpha
        ? chroma.heif_chroma_interleaved_RGBA
        : chroma.heif_chroma_interleaved_RGB,
  );
  if (!decoded || isError(decoded)) throw damaged(decoded);
  const { widthPx, heightPx, codes: stored } = planeOf(lib, decoded, (alpha ? 4 : 3) * (wide ? 2 : 1));
  const codes = wide ? widened(stored, bits) : stored;
  const whiteCode = wide ? (2 ** bits - 1) * 2 ** (16 - bits) : 255;
  return {
    widthPx,
    heightPx,
    codes: alpha ? opaqueOnly(codes, whiteCode) : codes,
    maxCode: wide ? 65535 : 255,
    whiteCode,
    ...colourOf(opened),
  };
}

/** Little-endian samples of 10 or 12 bits, moved up to 16. */
function widened(bytes: Uint8Array, bits: number): Uint16Array {
  const codes = new Uint16Array(bytes.length / 2);
  for (let i = 0; i < codes.length; i++) codes[i] = (bytes[2 * i] | (bytes[2 * i + 1] << 8)) << (16 - bits);
  return codes;
}

/** Which colour does this HEIC or AVIF claim for its main picture? */
export async function readHeifColour(bytes: Uint8Array): Promise<HeifColour> {
  return colourOf(await open(bytes));
}

/**
 * A decoder of its own for each file: what one file does to its memory, or leaves there, ends with it.
 * Loaded on first use; its memory is collected as a whole, so nothing is released by hand.
 */
async function open(bytes: Uint8Array): Promise<Opened> {
  const { default: instantiate } = await import('libheif-js/libheif-wasm/libheif-bundle.mjs');
  const lib = await instantiate();
  try {
    const context = lib.heif_context_alloc();
    const { code, message } = lib.heif_context_read_from_memory(context, bytes);
    if (code !== lib.heif_error_code.heif_error_Ok) throw new Error(message);
    const handle = lib.heif_js_context_get_primary_image_handle(context);
    if (!handle || isError(handle)) throw new Error(handle?.message);
    return { lib, handle };
  } catch (cause) {
    throw damaged(cause);
  }
}

function isError(result: Owned | Decoded | HeifError): result is HeifError {
  return 'code' in result;
}

/** The interleaved samples without the padding at the end of rows, copied out of the decoder's memory. */
function planeOf(lib: LibHeif, decoded: Decoded, bytesPerPixel: number) {
  const plane = decoded.channels.find(({ id }) => id === lib.heif_channel.heif_channel_interleaved);
  if (plane === undefined) throw damaged('no samples');
  const { width, height, stride, data } = plane;
  const row = bytesPerPixel * width;
  if (stride === row) return { widthPx: width, heightPx: height, codes: data.slice(0, row * height) };
  const codes = new Uint8Array(row * height);
  for (let y = 0; y < height; y++) codes.set(data.subarray(y * stride, y * stride + row), y * row);
  return { widthPx: width, heightPx: height, codes };
}

function colourOf({ lib, handle }: Opened): HeifColour {
  const { ptr } = handle.$$;
  const error = lib._malloc(12);
  const size = lib._heif_image_handle_get_raw_color_profile_size(ptr);
  if (size > 0) {
    const to = lib._malloc(size);
    lib._heif_image_handle_get_raw_color_profile(error, ptr, to);
    return { icc: lib.HEAPU8.slice(to, to + size), cicp: null };
  }
  const to = lib._malloc(4);
  lib._heif_image_handle_get_nclx_color_profile(error, ptr, to);
  if (lib.HEAPU32[error >> 2] !== 0) return { icc: null, cicp: null };
  const nclx = lib.HEAPU32[to >> 2] >> 2;
  return { icc: null, cicp: { primaries: lib.HEAPU32[nclx + 1], transfer: lib.HEAPU32[nclx + 2] } };
}
