import type { Phrase } from '../../../analysis/phrases.ts';
import { adviceSentence } from '../../../analysis/words/adviceSentence.ts';
import { germanAdvice } from '../../../analysis/words/germanAdvice.ts';
import { germanCautions } from '../../../analysis/words/germanCautions.ts';
import { GERMAN_SKY, germanPatch } from '../../../analysis/words/germanNames.ts';
import { germanPhrasing } from '../../../analysis/words/germanPhrases.ts';
import { formatsWith } from './numbers.ts';
import type { PaperWords } from './shape.ts';

const formats = formatsWith(',');
const phrases = germanPhrasing(formats) as Readonly<Record<string, (values: never) => string>>;
const said = (phrase: Phrase | undefined): string | null =>
  phrase && Object.hasOwn(phrases, phrase.id) ? phrases[phrase.id](phrase.values as never) : null;

/** 2026-06-30 as it is written in German: 30.06.2026. */
const day = (iso: string): string => iso.split('-').reverse().join('.');

/** All words of the papers in German. */
export const german: PaperWords = {
  language: 'de',
  formats,
  said,
  advice: ({ advice, curve }) => adviceSentence(advice, curve, { words: germanAdvice, formats, said }),
  cautions: germanCautions,
  day,

  sheet: {
    title: 'Messblatt',
    card: 'Hierher die Karte, flach. Eine größere darf über die obere Kante ragen.',
    cloth: 'Hierher Streifen oder Reststücke: trocken, flach, ringsum weißes Papier.',
    fields: { dye: 'Farbstoff', cloth: 'Tuch', light: 'Licht', date: 'Datum' },
    plan: 'Plan',
    steps: 'Stufen',
    ruler: '100 mm von Ende zu Ende: Miss nach. Sonst drucke neu in Originalgröße (100 %).',
  },

  report: {
    heading: 'Eichung',
    subject: 'Eichung der Belichtung nach dem Foto eines Teststreifens',
    fileName: 'eichung',
    noDye: 'Teststreifen',
    expose: 'Belichte',
    noTime: 'Keine Zeit',
    interval: (low, high, width) =>
      `${low} bis ${high} in 9 von 10 Fällen${width === null ? '' : `, ${width} Blenden weit`}`,
    openInterval: (low) => `${low} oder länger in 9 von 10 Fällen`,
    target: {
      L: (L) => `für L* ${L}`,
      depth: (percent) => `für ${percent} % Tiefe`,
      full: 'so tief es geht',
      swatch: (L, a, b) => `für die Farbe des Musters, L* ${L}, a* ${a}, b* ${b}`,
    },
    checkFirst: (doubt) => `Zuerst prüfen: ${doubt}`,
    plot: {
      base: 'Grund',
      stops: 'Blenden über der kürzesten Stufe',
      depth: 'Tiefe',
      bars: 'Belichtung in Minuten:Sekunden. Striche: 90 % jeder Ablesung.',
      curve: 'Grau: 90-%-Bereich der Kurve; gestrichelt: jenseits der Stufen.',
      hatched: 'Schraffiert: 90-%-Bereich der Zeit.',
      noCurve: (why) => `Keine Kurve: ${why}`,
    },
    table: {
      step: 'Stufe',
      time: 'Zeit',
      stops: 'Blenden',
      density: 'Dichte',
      deltaE: 'ΔE00 zum Grund',
      verdict: 'Urteil',
      note: 'Zeit in Minuten:Sekunden. u: eine Standardunsicherheit von L*.',
    },
    verdict: {
      'washed-out': 'ausgewaschen',
      building: 'im Aufbau',
      'full-depth': 'volle Tiefe',
      overexposed: 'überbelichtet',
    },
    nextStrip: 'Nächster Streifen',
    together: (stops) => `Zusammen mit diesem Streifen gelesen: ein Bereich von ${stops} Blenden.`,
    warnings: 'Was du über diese Lesung wissen solltest',
    otherLanguage:
      'Einige Sätze gibt es für diese Lesung nur auf Englisch, weil eine frühere Fassung sie geschrieben hat. Lies das Foto noch einmal, dann stehen sie auf Deutsch da.',
    how: 'Wie gelesen wurde',
    takeCare: 'Vorsicht',
    foot: 'Ein Ausgangspunkt, gemessen an einem einzigen Foto: Probiere ihn zuerst an einem Rest aus.',
    pageOf: (program, method, page, pages) => `${program} · Verfahren ${method} · ${page} von ${pages}`,
    rows: {
      method: 'Verfahren',
      photo: 'Foto',
      photos: 'Fotos',
      card: 'Karte',
      light: 'Tischlicht',
      camera: 'Kamera',
      curve: 'Kurve',
      figures: 'Kennzahlen',
    },
    method: (version) =>
      `Fassung ${version}; CIELAB für D65 und 2°, bezogen auf das vollkommene Weiß der Karte`,
    photos: (count, measured, expected) =>
      `${count} dieses Streifens weichen um ${measured} L* voneinander ab (zu erwarten: ${expected})`,
    card: {
      'grey-18': 'ein graues Feld, 18 %',
      'white-grey-black': 'Weiß, Grau und Schwarz',
      'grey-scale': 'Graukeil, 10 Felder',
      'chart-24': 'Tafel mit 24 Farben',
      own: 'eigene Felder',
    },
    patchesUsed: (card, count) => `${card}, ${count} ${count === 1 ? 'Feld' : 'Felder'} verwendet`,
    patchRefused: (patch, reason) => `${germanPatch(patch)} nicht verwendet: ${reason}`,
    lowContrast: 'zu wenig Kontrast für L* selbst: Unterschiede gelten',
    light: {
      surround: 'mit Hilfe der Umgebung ausgeglichen',
      'base-cloth': 'entlang des Grundtuchs ausgeglichen',
      'card-ends': 'zwischen den Kartenfeldern ausgeglichen',
      'within-patches': 'innerhalb der Kartenfelder ausgeglichen',
    },
    lightNotEvened: 'nicht ausgeglichen',
    fallOff: (ratio) => `hellste zu dunkelster Stelle ${ratio} : 1`,
    camera: (slope, flare) => `Steigung ${slope}, Streulicht ${flare} %`,
    leftOutPatch: (L) => `ein ausgelassenes Feld wird auf ${L} L* getroffen`,
    colours: 'Farben nach der Tafel berichtigt',
    curve: {
      'build-up': 'Kurve des Farbaufbaus',
      logistic: 'logistische Kurve',
      monotone: 'glatte Kurve durch die Stufen',
    },
    figures: {
      base: (L) => `Grund L* ${L}`,
      deepest: (L) => `Tiefstes L* ${L}`,
      contrast: (slope) => `Kontrast ${slope} L* je Blende bei halber Tiefe`,
      scale: (stops) => `Belichtungsumfang ${stops} Blenden von 10 bis 90 % Tiefe`,
      toFull: (time) => `höchstens 1 L* vom Tiefsten nach ${time}`,
    },
  },

  kept: {
    exposed: (when) => `Belichtet ${day(when)}`,
    batch: (name) => `Ansatz ${name}`,
    lampHours: (hours) => `Lampenstunden ${hours}`,
    sky: (sky) => `Himmel ${GERMAN_SKY[sky]}`,
    read: (when) => `gelesen ${day(when)}`,
    reading: (id) => `Lesung ${id}`,
    superseded: (by) => `Noch einmal gelesen als ${by}: Jene Lesung gilt statt dieser.`,
    putAway: (when) => `Weggelegt ${day(when)}.`,
  },
};
