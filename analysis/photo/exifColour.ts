/** EXIF tags: pointers to the EXIF and interoperability directories, colour space, interoperability index. */
const EXIF_POINTER = 0x8769;
const INTEROP_POINTER = 0xa005;
const COLOR_SPACE = 0xa001;
const INTEROP_INDEX = 0x0001;
const UNCALIBRATED = 0xffff;
/** Not in the standard, but written by some cameras. */
const ADOBE_RGB = 2;

/** One directory of a TIFF structure: the value field of each tag, as offset of its first byte. */
const directoryAt = (view: DataView, at: number, little: boolean): ReadonlyMap<number, number> => {
  const tags = new Map<number, number>();
  if (at <= 0 || at + 2 > view.byteLength) return tags;
  const count = view.getUint16(at, little);
  for (let i = 0; i < count && at + 14 + 12 * i <= view.byteLength; i++) {
    const entry = at + 2 + 12 * i;
    tags.set(view.getUint16(entry, little), entry + 8);
  }
  return tags;
};

/**
 * Does this EXIF data say that the picture's colours are Adobe RGB? Cameras set to it may embed no profile and mark the
 * file only so: colour space 'uncalibrated' and interoperability index R03.
 *
 * @param exif as stored in the file, with or without its leading "Exif\0\0". @returns false for damaged data too.
 * Source: [DCF].
 */
export const marksAdobeRgb = (exif: Uint8Array): boolean => {
  const head = exif[0] === 0x45 ? 6 : 0;
  const view = new DataView(exif.buffer, exif.byteOffset + head, Math.max(0, exif.length - head));
  if (view.byteLength < 8) return false;
  const little = view.getUint16(0) === 0x4949;
  const first = directoryAt(view, view.getUint32(4, little), little);
  const pointer = first.get(EXIF_POINTER);
  if (pointer === undefined) return false;
  const own = directoryAt(view, view.getUint32(pointer, little), little);
  const space = own.get(COLOR_SPACE);
  const colourSpace = space === undefined ? null : view.getUint16(space, little);
  if (colourSpace === ADOBE_RGB) return true;
  const interop = own.get(INTEROP_POINTER);
  if (colourSpace !== UNCALIBRATED || interop === undefined) return false;
  const index = directoryAt(view, view.getUint32(interop, little), little).get(INTEROP_INDEX);
  if (index === undefined || index + 3 > view.byteLength) return false;
  return (
    String.fromCharCode(view.getUint8(index), view.getUint8(index + 1), view.getUint8(index + 2)) === 'R03'
  );
};
