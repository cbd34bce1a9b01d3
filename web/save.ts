/** What an SVG element takes over from the one around it, unless it says otherwise. */
const INHERITED = [
  'fill',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linejoin',
  'font-family',
  'font-size',
  'font-weight',
  'font-variant-numeric',
] as const;

/** A colour that any drawing program understands, for one that the screen shows. */
const plainColour = (css: string): string => {
  if (!css.startsWith('color(')) return css;
  const canvas = document.createElement('canvas');
  canvas.width = 1;
  canvas.height = 1;
  const pen = canvas.getContext('2d');
  if (!pen) return css;
  pen.fillStyle = css;
  pen.fillRect(0, 0, 1, 1);
  const [r, g, b] = pen.getImageData(0, 0, 1, 1).data;
  return `rgb(${r}, ${g}, ${b})`;
};

/** Drawing programs know no colour with an opacity in it: the two apart. */
const solidColour = (css: string): { readonly colour: string; readonly opacity: string | null } => {
  const match = /^rgba\((\d+), (\d+), (\d+), ([\d.]+)\)$/.exec(css);
  return match
    ? { colour: `rgb(${match[1]}, ${match[2]}, ${match[3]})`, opacity: match[4] }
    : { colour: css, opacity: null };
};

/** The text of an SVG file that looks as the drawing does on the page, without the page's style sheet. */
export const svgFileOf = (drawing: SVGSVGElement): string => {
  const copy = drawing.cloneNode(true) as SVGSVGElement;
  const originals = [drawing, ...drawing.querySelectorAll('*')];
  const copies = [copy, ...copy.querySelectorAll('*')];
  originals.forEach((original, i) => {
    const look = getComputedStyle(original);
    const around = i === 0 ? null : getComputedStyle(original.parentElement ?? drawing);
    const target = copies[i];
    target.removeAttribute('class');
    target.removeAttribute('style');
    for (const name of INHERITED) {
      const value = look.getPropertyValue(name);
      if (value === around?.getPropertyValue(name) || target.getAttribute(name)?.startsWith('url(')) continue;
      const { colour, opacity } = solidColour(plainColour(value));
      target.setAttribute(name, colour);
      if (opacity !== null) target.setAttribute(`${name}-opacity`, opacity);
    }
    if (original instanceof SVGStopElement)
      target.setAttribute('stop-color', plainColour(look.getPropertyValue('stop-color')));
  });
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  const ground = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
  ground.setAttribute('width', '100%');
  ground.setAttribute('height', '100%');
  ground.setAttribute('fill', getComputedStyle(document.documentElement).backgroundColor);
  copy.prepend(ground);
  return new XMLSerializer().serializeToString(copy);
};

/** Pixels of a saved picture per pixel of the screen: sharp on paper. */
const PICTURE_SCALE = 3;

/** A drawing as a PNG picture; null where the browser can't make one. */
export const pictureOf = async (drawing: SVGSVGElement): Promise<Blob | null> => {
  const address = URL.createObjectURL(new Blob([svgFileOf(drawing)], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = drawing.width.baseVal.value * PICTURE_SCALE;
    canvas.height = drawing.height.baseVal.value * PICTURE_SCALE;
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((settle) => canvas.toBlob(settle, 'image/png'));
  } finally {
    URL.revokeObjectURL(address);
  }
};

/** Hands something to the visitor as a file. */
export const saveFile = (content: string | Blob, name: string, type: string): void => {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
};
