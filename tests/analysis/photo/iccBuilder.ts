/**
 * ICC profiles written by hand for the tests, after ICC.1:2022: header (7.2), tag table (7.3), and the types
 * XYZType, curveType, parametricCurveType, lut16Type, multiLocalizedUnicodeType (10).
 */

const s15Fixed16 = (value: number): Buffer => {
  const bytes = Buffer.alloc(4);
  bytes.writeInt32BE(Math.round(value * 65536));
  return bytes;
};

const uint16s = (values: readonly number[]): Buffer => {
  const bytes = Buffer.alloc(2 * values.length);
  values.forEach((value, i) => {
    bytes.writeUInt16BE(Math.round(value), 2 * i);
  });
  return bytes;
};

const uint32 = (value: number): Buffer => {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return bytes;
};

const typed = (type: string, ...parts: readonly Buffer[]): Buffer =>
  Buffer.concat([Buffer.from(type, 'latin1'), uint32(0), ...parts]);

export const xyzTag = (xyz: readonly number[]): Buffer => typed('XYZ ', ...xyz.map(s15Fixed16));

/** A plain exponent, stored in steps of 1/256. */
export const gammaTag = (exponent: number): Buffer => typed('curv', uint32(1), uint16s([exponent * 256]));

/** Light 0..1 at evenly spaced encoded values. */
export const sampledTag = (light: readonly number[]): Buffer =>
  typed('curv', uint32(light.length), uint16s(light.map((value) => value * 65535)));

/** A parametric curve of kind 0 to 4 with its parameters g a b c d e f. */
export const parametricTag = (kind: 0 | 1 | 2 | 3 | 4, parameters: readonly number[]): Buffer =>
  typed('para', uint16s([kind, 0]), ...parameters.map(s15Fixed16));

/**
 * Tables from RGB to XYZ: one curve per channel, then a cube with its 8 corners, then straight lines. Through 8
 * corners that add up, the cube is a matrix, so its answer can be told beforehand.
 */
export const cornerTableTag = (
  curve: readonly number[],
  corner: (rgb: readonly number[]) => readonly number[],
): Buffer => {
  const corners = [0, 1].flatMap((r) => [0, 1].flatMap((g) => [0, 1].map((b) => corner([r, g, b]))));
  const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  return typed(
    'mft2',
    Buffer.from([3, 3, 2, 0]),
    ...identity.map(s15Fixed16),
    uint16s([curve.length, 2]),
    ...[0, 1, 2].map(() => uint16s(curve.map((value) => value * 65535))),
    uint16s(corners.flat().map((value) => value * 32768)),
    ...[0, 1, 2].map(() => uint16s([0, 65535])),
  );
};

const nameTag = (name: string): Buffer => {
  const text = Buffer.from(name, 'utf16le').swap16();
  return typed('mluc', uint32(1), uint32(12), Buffer.from('enUS'), uint32(text.length), uint32(28), text);
};

/** A display or scanner profile with these tags; the description and the white are added. */
export function iccProfile(
  space: 'RGB ' | 'GRAY' | 'CMYK',
  name: string,
  tags: Readonly<Record<string, Buffer>>,
): Buffer {
  const all = Object.entries({ desc: nameTag(name), wtpt: xyzTag([0.9642, 1, 0.8249]), ...tags });
  const table: Buffer[] = [uint32(all.length)];
  const data: Buffer[] = [];
  let offset = 128 + 4 + 12 * all.length;
  for (const [signature, bytes] of all) {
    const padded = Buffer.concat([bytes, Buffer.alloc((4 - (bytes.length % 4)) % 4)]);
    table.push(Buffer.from(signature, 'latin1'), uint32(offset), uint32(bytes.length));
    data.push(padded);
    offset += padded.length;
  }
  const header = Buffer.alloc(128);
  header.writeUInt32BE(offset, 0);
  header.writeUInt32BE(0x04400000, 8);
  header.write(`mntr${space}XYZ `, 12, 'latin1');
  header.write('acsp', 36, 'latin1');
  Buffer.concat([0.9642, 1, 0.8249].map(s15Fixed16)).copy(header, 68);
  return Buffer.concat([header, ...table, ...data]);
}

/** A matrix profile: colorants in XYZ for D50, one curve for all channels. */
export function matrixIcc(name: string, colorants: readonly (readonly number[])[], curve: Buffer): Buffer {
  const [r, g, b] = colorants;
  return iccProfile('RGB ', name, {
    rXYZ: xyzTag(r),
    gXYZ: xyzTag(g),
    bXYZ: xyzTag(b),
    rTRC: curve,
    gTRC: curve,
    bTRC: curve,
  });
}
