import type { AdviceWords } from './adviceSentence.ts';

/** What a reading advises, in German. */
export const germanAdvice: AdviceWords = {
  full: (L) => `volle Tiefe (L* ${L}, höchstens 1 heller als das Tiefste)`,
  depth: (percent, L) => `${percent} % Tiefe (L* ${L})`,
  lightness: (L) => `L* ${L}`,
  swatch: (L) => `das Muster (am nächsten bei L* ${L})`,
  expose: (time, target, L, depth) => `Belichte ${time} für ${target}: Das ergibt L* ${L}, ${depth} % Tiefe.`,
  between: (low, high) => `In neun von zehn Fällen liegt die richtige Zeit zwischen ${low} und ${high}.`,
  orLonger: (low) =>
    `In neun von zehn Fällen ist die richtige Zeit ${low} oder länger; wie viel länger, kann dieser Streifen nicht sagen.`,
  shorterThanShortest: (time) =>
    `Sie ist kürzer als die kürzeste Stufe, ${time}; dort sagt der Streifen wenig.`,
  stripBegins: (time, target) => `Der Streifen beginnt bei ${time}, schon tiefer als das Ziel: ${target}.`,
  stripEnds: (time, target) => `Der Streifen endet bei ${time}, noch vor dem Ziel: ${target}.`,
  about: (time) =>
    `Nach der Kurve dauert es etwa ${time}, was keine Stufe geprüft hat: Mach den nächsten Streifen, bevor du darauf vertraust.`,
  tooFar:
    'Es liegt mehr als eine Blende von jeder Stufe entfernt, darum gibt es keine Zeit: Mach den nächsten Streifen.',
  lighterThanCloth: (target, L) =>
    `Keine Belichtung ergibt ${target}: Das ist heller als das unbelichtete Tuch, L* ${L}.`,
  neverArrives: (target) =>
    `Die Kurve nähert sich dem Ziel (${target}), kommt aber nie ganz an: Wähle „so tief es geht“, das liegt höchstens 1 L* darüber, oder weniger.`,
  deeperThanDye: (target, L, u) =>
    `Dieser Farbstoff kommt auf diesem Tuch nicht bis zum Ziel (${target}): Sein Tiefstes ist L* ${L}${u === null ? '' : ` ± ${u}`}. Wähle ein helleres Ziel oder ein stärkeres Bad.`,
  swatchAway: (deltaE) => `Das Muster bleibt bestenfalls ΔE00 ${deltaE} entfernt.`,
  tooFewSteps:
    'Eine Kurve braucht einen unbelichteten Grund und mindestens zwei belichtete Stufen. Mach den nächsten Streifen mit mehr Stufen.',
  blankStrip:
    'Keine Stufe ist vom Grund zu unterscheiden. Prüfe zuerst die Lichtquelle: die richtige Lampe, nah genug, und nichts dazwischen, das Ultraviolett aufhält.',
  countDiffers:
    'Das Foto zeigt eine andere Zahl von Stufen, als Zeiten dastehen; darum bekommt keine Stufe ihre Zeit. Berichtige die Zeiten oder setze die Markierungen von Hand und lies dann neu.',
};
