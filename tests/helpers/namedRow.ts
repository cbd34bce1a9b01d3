/** A row of dyes, cloths or lights as the book's tables hold it. */
export const namedRow = (name: string) => ({
  id: crypto.randomUUID(),
  createdAt: '2026-05-03T09:00:00.000Z',
  changedAt: '2026-05-03T09:00:00.000Z',
  putAwayAt: null,
  remark: '',
  name,
  nameKey: name.toLowerCase(),
});
