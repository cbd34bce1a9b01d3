import { create } from 'qrcode';

/** A square pattern, row by row: true where black. */
export type Cells = readonly (readonly boolean[])[];

/** The cells of a QR code (ISO/IEC 18004) that holds the text, without its quiet margin; level M mends 15 % of it. */
export const codeCells = (text: string): Cells => {
  const { modules } = create(text, { errorCorrectionLevel: 'M' });
  return Array.from({ length: modules.size }, (_, row) =>
    Array.from({ length: modules.size }, (_, column) => modules.get(row, column) === 1),
  );
};
