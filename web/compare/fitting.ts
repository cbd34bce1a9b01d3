/** Strips in which all words of a text occur, in whatever order. */
export const fitting = <T extends { readonly name: string; readonly detail: string }>(
  strips: readonly T[],
  text: string,
): readonly T[] => {
  const wanted = text.toLocaleLowerCase().split(/\s+/).filter(Boolean);
  return strips.filter(({ name, detail }) => {
    const said = `${name} ${detail}`.toLocaleLowerCase();
    return wanted.every((word) => said.includes(word));
  });
};
