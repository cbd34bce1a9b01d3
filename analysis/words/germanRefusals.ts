import type { Phrase } from '../phrases.ts';
import type { ColoursWhy, Issue, Marked, RefusalValues } from '../refusals.ts';
import type { Formats } from './formats.ts';
import { germanArchiveReason } from './germanArchive.ts';
import { germanPatch as patch } from './germanNames.ts';

type Refusing = { readonly [I in keyof RefusalValues]: (values: RefusalValues[I]) => string };

const KIND: Readonly<Record<string, string>> = {
  number: 'eine Zahl',
  int: 'eine ganze Zahl',
  string: 'ein Text',
  array: 'eine Liste',
  tuple: 'eine Liste',
  object: 'ein Objekt',
  boolean: 'true oder false',
};

const issueText = ({ place, wrong, expected }: Issue): string => {
  const where = place === '' ? '' : `${place}: `;
  const list = String(expected ?? '');
  const names = Array.isArray(expected) ? expected.map((name) => `„${name}“`).join(', ') : `„${list}“`;
  switch (wrong) {
    case 'missing':
      return `${where}fehlt, erwartet wird ${KIND[list] ?? list}`;
    case 'kind':
      return `${where}erwartet wird ${KIND[list] ?? list}`;
    case 'least':
      return `${where}mindestens ${list}`;
    case 'most':
      return `${where}höchstens ${list}`;
    case 'choice':
      return `${where}möglich sind ${names}`;
    case 'unknown':
      return `${where}nicht bekannt ist ${names}`;
    case 'other':
      return `${where}passt nicht`;
  }
};

/** What a file is that is no photo. */
const FILE: Readonly<Record<string, string>> = {
  'a GIF picture, which holds too few colours to measure':
    'ein GIF-Bild, das zum Messen zu wenige Farben enthält',
  'a PDF document': 'ein PDF-Dokument',
  'a drawing or a web page': 'eine Zeichnung oder eine Webseite',
  'a BMP picture': 'ein BMP-Bild',
  'a JPEG XL picture': 'ein JPEG-XL-Bild',
  'a JPEG 2000 picture': 'ein JPEG-2000-Bild',
  'a raw camera file': 'eine Rohdatei der Kamera',
  'a layered Photoshop document': 'ein Photoshop-Dokument mit Ebenen',
  'a ZIP archive': 'ein ZIP-Archiv',
  'a video or another kind of recording': 'ein Film oder eine andere Aufnahme',
  'not a photo that can be read': 'kein Foto, das gelesen werden kann',
};

const COLOURS: Readonly<Record<ColoursWhy, (detail: string) => string>> = {
  'profile-damaged': () => 'Das Farbprofil des Fotos ist beschädigt.',
  'profile-unreadable': () => 'Das Farbprofil des Fotos lässt sich nicht lesen.',
  'profile-incomplete': () => 'Das Farbprofil des Fotos ist unvollständig.',
  'profile-space': (detail) =>
    `Das Farbprofil des Fotos ist für ${detail || 'andere Farben'} gemacht, nicht für RGB.`,
  hdr: () => 'Das Foto ist für HDR-Bildschirme gespeichert. Schalte HDR in der Kamera aus, oder:',
  code: (detail) => `Der Farbcode des Fotos (${detail}) ist keiner, den Fotos verwenden.`,
  channels: (detail) => `Das Foto hat ${detail} Kanäle, mehr als Rot, Grün und Blau.`,
  cmyk: () =>
    'Das Foto ist in Druckfarben (CMYK) gespeichert, die nicht sagen, welches Licht die Kamera sah.',
  space: (detail) => `Die Farben des Fotos sind als ${detail} gespeichert, nicht als Rot, Grün und Blau.`,
  depth: () => 'Die Werte des Fotos sind keine ganzen Zahlen von 8 oder 16 Bit.',
};

const WHERE: Readonly<Record<string, string>> = {
  'the swatch': 'das Muster',
  'the surround': 'die Umgebung',
  'the sheet': 'der Bogen',
};

const TIME_OF: Readonly<Record<RefusalValues['plan-time-unfit']['of'], string>> = {
  shortest: 'Die kürzeste Belichtung',
  added: 'Die Zeit, die jede Stufe dazubekommt,',
  guess: 'Die Schätzung',
  listed: 'Eine Zeit der Liste',
  maker: 'Die Zeit des Herstellers',
  exposure: 'Eine Belichtung',
  clock: 'Eine Zeit für die Uhr',
};

/** Things of the book. */
const KEPT: Readonly<Record<string, string>> = {
  reading: 'diese Lesung',
  print: 'diesen Druck',
  photo: 'dieses Foto',
};

const NAME_OF = { dye: 'Der Farbstoff', cloth: 'Das Tuch', light: 'Das Licht' } as const;

/** Refusals of the analysis, in German. */
export const germanRefusals = ({ number: n }: Formats, within: (phrase: Phrase) => string): Refusing => {
  const because = (reason: Phrase | null): string => (reason === null ? '.' : `: ${within(reason)}`);
  /** A number as somebody wrote it: all its decimals. */
  const own = (value: number): string => String(value).replace('.', ',').replace('-', '−');
  const mark = (of: Marked): string =>
    typeof of === 'string'
      ? (WHERE[of] ?? `„${of}“`)
      : 'patch' in of
        ? `Kartenfeld ${patch(of.patch)}`
        : `Stufe ${own(of.seconds)} s`;
  const TARGET = 'Schreibe es als „L=45“, „depth=80%“, „full“ oder „swatch=45,-3,-28“ (L*, a*, b*).';

  return {
    'file-empty': () => 'Die Datei ist leer. Schicke das Foto noch einmal vom Telefon oder von der Kamera.',
    'file-kind': ({ what }) =>
      `Diese Datei ist ${FILE[what] ?? `„${what}“`}. Sichere das Foto als JPEG, PNG, WebP, TIFF, AVIF oder HEIC und versuche es noch einmal.`,
    'file-moving': () =>
      'Diese Datei enthält ein bewegtes Bild. Sichere ein einzelnes Bild als JPEG und versuche es noch einmal.',
    'file-damaged': () =>
      'Das Foto ist beschädigt oder bricht ab. Kopiere es noch einmal vom Telefon oder von der Kamera oder sichere es neu als JPEG.',
    'file-see-through': () =>
      'Der größte Teil dieses Bildes ist durchsichtig. Sichere es ohne Transparenz als JPEG und versuche es noch einmal.',
    'colours-unsupported': ({ why, detail }) =>
      `${COLOURS[why](detail)} Sichere das Foto als RGB-JPEG mit dem Profil sRGB oder Display P3 und versuche es noch einmal.`,
    'photo-large': ({ megapixels, most }) =>
      `Das Foto hat ${n(megapixels, 0)} Megapixel; bis ${n(most, 0)} lassen sich lesen. Schneide es auf Streifen und Karte zu oder sichere es kleiner.`,
    'photo-tiny': ({ widthPx, heightPx, least }) =>
      `Das Foto hat ${widthPx} × ${heightPx} px; nötig sind mindestens ${least} × ${least} px. Nimm das Original, kein Vorschaubild.`,

    'mark-outside': ({ of, widthPx, heightPx }) =>
      `Eine Markierung liegt außerhalb des Fotos von ${widthPx} × ${heightPx} Bildpunkten: ${mark(of)}. Zieh ihre Ecken ins Bild.`,
    'mark-small': ({ of, widthPx, heightPx }) =>
      `Eine Markierung ist nur ${n(widthPx, 0)} × ${n(heightPx, 0)} Bildpunkte groß: ${mark(of)}. Geh näher heran oder nimm das Foto in voller Größe.`,
    'mark-empty': ({ of }) =>
      `Von einer Markierung bleibt ohne ihre Ränder kein Bildpunkt: ${mark(of)}. Zieh ihre vier Ecken weiter auseinander.`,
    'mark-crossed': ({ of }) =>
      `Vier Ecken ergeben keine Fläche: ${mark(of)}. Setze sie neu, ohne dass sich Seiten kreuzen.`,
    'marks-on-one-place': ({ one, other }) =>
      `Zwei Markierungen liegen auf derselben Stelle: ${mark(one)} und ${mark(other)}. Setze jede auf ihre eigene Fläche.`,
    'mark-twice': ({ seconds }) =>
      `Die Stufe ${own(seconds)} s ist öfter markiert, als der Streifen sie hat. Markiere jede Belichtung einmal.`,
    'mark-of-no-step': ({ seconds, known }) =>
      `Eine Stufe von ${own(seconds)} s ist markiert, aber der Streifen hat ${known.map((s) => `${own(s)} s`).join('; ')}. Markiere jede Belichtung einmal.`,
    'mark-of-no-patch': ({ patch: name, known }) =>
      `Ein Kartenfeld ${patch(name)} ist markiert, aber die Felder der Karte heißen ${known.map(patch).join(', ')}.`,
    'marks-unreadable': ({ issue, sheet }) =>
      `Die Markierungen passen nicht: ${issueText(issue)}. Nötig sind "card": [{"name", "quad"}] und ${sheet ? '"sheet": {"quad"}' : '"steps": [{"seconds", "quad"}]'}, jedes quad vier Ecken [x, y] in Bildpunkten.`,
    'taps-unreadable': ({ issue }) =>
      `Die angetippten Punkte passen nicht: ${issueText(issue)}. Sie haben die Form {"card": [x, y], "strip": [x, y]}, eines darf fehlen, in Bildpunkten des aufrechten Fotos.`,
    'tap-outside': ({ of, widthPx, heightPx }) =>
      `Angetippt wurde außerhalb des Fotos von ${widthPx} × ${heightPx} Bildpunkten (${of === 'card' ? 'Karte' : 'Streifen'}). Tippe ins Bild.`,
    'card-unseen': ({ where }) =>
      where === 'sheet'
        ? 'Das Messblatt wurde gefunden, aber in seinem oberen Rahmen liegt keine solche Karte. Lege sie dorthin und fotografiere noch einmal, oder setze ihre Felder von Hand.'
        : `Es wurde keine solche Karte gefunden${where === 'tap' ? ', wo du getippt hast' : ''}. Fotografiere so, dass sie ganz im Bild ist, oder setze ihre Felder von Hand.`,
    'strip-unseen': ({ steps, where }) =>
      where === 'sheet'
        ? `Das Messblatt wurde gefunden, aber in seinem unteren Rahmen liegt kein Streifen von ${steps} Stufen. Lege das Tuch mit weißem Papier ringsum dorthin und fotografiere noch einmal, oder setze die Stufen von Hand.`
        : `Es wurde kein Streifen von ${steps} Stufen gefunden${where === 'tap' ? ', wo du getippt hast' : ''}. Fotografiere so, dass er ganz im Bild ist, oder setze die Stufen von Hand.`,
    'photos-differ': () =>
      'Die Fotos zeigen nicht dieselben Stufen. Markiere in jedem Foto des Streifens dieselben.',
    'swatch-unmarked': () =>
      'Es gibt kein Muster, das getroffen werden könnte: Markiere es im Foto oder gib seine Farbe als „swatch=L,a,b“ an.',

    'strip-unreadable': ({ issue }) =>
      `Die Beschreibung des Streifens passt nicht: ${issueText(issue)}. Nötig sind "card" und "steps": [{"seconds": 0}, {"seconds": 60}, …].`,
    'strip-missing': () => 'Der Streifen fehlt: Beschreibe Karte und Stufen als JSON.',
    'step-too-short': ({ seconds, least }) =>
      `Eine Stufe von ${own(seconds)} s ist kürzer, als sich eine Belichtung stoppen lässt. Der unbelichtete Grund hat 0, alles andere ${own(least)} s oder mehr.`,
    'steps-not-rising': ({ step, seconds, before }) =>
      `Stufe ${step} (${own(seconds)} s) ist kürzer als die davor (${own(before)} s). Nenne die Stufen nach steigender Belichtung.`,
    'patch-one-measure': ({ patch: name }) =>
      `Kartenfeld ${patch(name)} braucht eines von Y, L und Dichte, und nur eines.`,
    'patch-in-percent': ({ patch: name, Y }) =>
      `Kartenfeld ${patch(name)} steht mit Y = ${own(Y)} da: Schreibe Y von 0 bis 1 (18 % sind 0,18).`,
    'patch-beyond': ({ patch: name, as, value }) =>
      `Kartenfeld ${patch(name)} mit ${{ Y: 'Y =', L: 'L* =', density: 'Dichte' }[as]} ${own(value)} ist nicht zu verwenden; ein Feld liegt zwischen Y 0,002 und 1 (L* 1,8 bis 100, Dichte 2,7 bis 0).`,
    'patch-twice': () => 'Zwei Kartenfelder heißen gleich; gib jedem einen eigenen Namen.',
    'card-unknown': ({ card, known }) =>
      `Die Karte „${card}“ ist nicht bekannt. Es gibt ${known.join(', ')}, oder zähle eigene Felder mit Y, L oder Dichte auf.`,
    'name-unfit': ({ of }) =>
      `${NAME_OF[of]} braucht einen Namen von einer Zeile, bis 200 Zeichen, ohne Steuerzeichen.`,

    'target-unclear': ({ text }) => `Das Ziel „${text}“ ist nicht zu verstehen. ${TARGET}`,
    'target-beyond': ({ kind, values }) => {
      const [one, a, b] = values.map(own);
      const what = {
        L: `Ein Ziel von L* ${one} liegt nicht zwischen 0 und 100.`,
        depth: `Eine Tiefe von ${one} % liegt nicht über 0 und bis 100 %.`,
        swatch: `Ein Muster von L* ${one}, a* ${a}, b* ${b} ist keine Farbe eines Tuchs.`,
        unknown: 'Dieses Ziel gibt es nicht.',
      }[kind];
      return `${what} ${TARGET}`;
    },
    'point-unfit': ({ seconds, L, a, b, uL }) =>
      `Eine Stufe von ${own(seconds)} s mit L* ${own(L)}, a* ${own(a)}, b* ${own(b)}, u ${own(uL)} ist nicht zu verwenden. Gib endliche Zahlen an und Zeiten ab 0 s.`,
    'covariance-unfit': ({ count }) =>
      `Die Kovarianz muss ${count} × ${count} endliche Zahlen enthalten, eine Zeile und eine Spalte je Stufe.`,
    'plan-shift-unfit': ({ stops, most }) =>
      `Eine Verschiebung um ${own(stops)} Blenden ist nicht zu verwenden. Möglich sind −${most} bis ${most} Blenden.`,
    'plan-target-paler': ({ targetL, baseL }) =>
      `L* ${n(targetL, 1)} ist heller als das unbelichtete Tuch, L* ${n(baseL, 1)}: Keine Belichtung ergibt es. Wähle ein dunkleres Ziel.`,
    'plan-times-unfit': () => 'Gib die Zeiten der Stufen in Sekunden an, jede länger als die davor.',
    'plan-ratio-unfit': ({ ratio }) =>
      `Eine längste Belichtung von ${own(ratio)} τ sagt nichts über eine Kurve. Gib ein Verhältnis über 0 an.`,
    'plan-exposures-missing': () => 'Gib mindestens eine Belichtung und τ an, alle über 0 s.',
    'plan-u-unfit': ({ uL }) =>
      `Eine Unsicherheit von ${own(uL)} L* ist nicht zu verwenden. Gib eine Zahl über 0 an, etwa 0,5.`,
    'plan-spacing-unfit': ({ stops, least, most }) =>
      `${own(stops)} Blenden je Stufe lassen sich nicht planen. Möglich sind ${own(least)} bis ${own(most)}; ein erster Streifen nimmt 1, ein zweiter 1/2.`,
    'plan-count-unfit': ({ count, least, most }) =>
      `${own(count)} Stufen lassen sich nicht planen. Möglich sind ${least} bis ${most}; sechs oder sieben geben einen guten ersten Streifen.`,
    'plan-time-unfit': ({ of, seconds }) =>
      `${TIME_OF[of]} ist ${own(seconds)} s. Gib eine Zeit ${of === 'clock' ? 'ab' : 'über'} 0 s an.`,
    'plan-sky-unknown': ({ sky, known }) =>
      `„${sky}“ ist kein bekannter Himmel. Möglich sind ${known.join(', ')}.`,
    'plan-sky-under-lamp': () =>
      'Unter einer Lampe ändert der Himmel nichts. Lass ihn weg oder wähle die Sonne.',
    'time-unclear': ({ text }) =>
      `„${text}“ ist keine Zeit. Schreibe Sekunden („90“), Minuten und Sekunden („1:30“) oder eine Einheit („1,5 min“).`,
    'time-long': ({ text, hours }) => `„${text}“ ist länger als ${hours} h. Gib eine Zeit bis ${hours} h an.`,
    'stops-unclear': ({ text }) =>
      `„${text}“ ist keine Zahl von Blenden. Schreibe sie wie „1“, „0,5“, „1/3“ oder „1 1/2“.`,
    'stops-many': ({ text, most }) =>
      `„${text}“ sind mehr als ${most} Blenden, ein Faktor von einer Million. Gib weniger an.`,
    'timer-unfit': ({ timerStep, least, most }) =>
      `Ein Schritt der Schaltuhr von ${own(timerStep)} s ist nicht zu verwenden. Gib die kleinste Änderung deiner Schaltuhr an, ${own(least)} s bis ${own(most)} s.`,
    'plan-id-unfit': ({ id, most }) =>
      `Die Kennung eines Plans hat bis ${most} kleine Buchstaben, Ziffern und Bindestriche; gegeben war „${id}“.`,

    'compare-too-few': () => 'Nenne mindestens zwei Farbstoffe zum Vergleichen, jeden mit eigenem Namen.',
    'compare-beyond': ({ depthPercent, targetL }) =>
      `Bei einer Tiefe von ${own(depthPercent)} %${targetL === null ? '' : ` oder L* ${own(targetL)}`} lässt sich nicht vergleichen. Gib Zahlen über 0 und unter 100 an.`,
    'shift-missing': () => 'Jeder Kontrollrest braucht eine Verschiebung in Blenden. Lass die anderen weg.',
    'scraps-missing': () =>
      'Nenne mindestens einen belichteten Kontrollrest, mit Sekunden und einer Unsicherheit über 0.',
    'aim-beyond': ({ L }) => `Auf L* ${own(L)} lässt sich nicht zielen. Gib ein L* zwischen 0 und 100 an.`,
    'chart-too-short': ({ least, count }) =>
      `Eine Regelkarte braucht ${least} Zahlen oder mehr, gegeben waren ${count}. Belichte mehr Kontrollreste.`,
    'average-unfit': ({ weight, sigma }) =>
      `Ein gleitendes Mittel braucht endliche Zahlen, ein Gewicht über 0 bis 1 (gegeben: ${own(weight)}) und eine Abweichung ab 0 (gegeben: ${own(sigma)}).`,
    'hours-unfit': () =>
      'Lampenstunden und Verschiebungen müssen endliche Zahlen sein. Lass die anderen weg.',
    'bed-rows-unfit': ({ least, most, rows }) =>
      `Ein Bogen wird in ${least} bis ${most} Zeilen mit gleich vielen Feldern gelesen, gegeben waren ${rows} Zeilen. Gib ein volles Gitter an.`,
    'bed-grid-unfit': ({ least, most, rows, columns }) =>
      `Ein Bogen wird vom Foto in ${least} bis ${most} Zeilen und Spalten gelesen, gegeben waren ${rows} × ${columns}.`,
    'bed-cell-unfit': () => 'Jedes Feld braucht ein L* und eine Unsicherheit über 0, oder null.',
    'bed-tolerance-unfit': ({ percent, least, most }) =>
      `±${own(percent)} % ist nicht zu verwenden. Möglich sind ${least} bis ${most} %.`,
    'bed-sheet-small': () =>
      'Der Bogen ist im Foto für so viele Felder zu klein. Geh näher heran, verlange weniger Zeilen und Spalten oder nimm das Foto in voller Größe.',
    'bed-card-on-sheet': ({ patch: name }) =>
      `Kartenfeld ${patch(name)} ist auf dem Bogen markiert. Lege die Karte neben den Bogen und setze jede Markierung auf ihre eigene Fläche.`,

    'request-unfit': ({ issue }) => `Die Anfrage passt nicht: ${issueText(issue)}.`,
    'photos-many': ({ most, given }) =>
      `Ein Streifen darf bis zu ${most} Fotos haben, es waren ${given}. Nimm die besten davon.`,
    'names-missing': ({ of }) =>
      `Es fehlt der Name: ${of.map((name) => NAME_OF[name].replace(/^(Der|Das) /, '')).join(', ')}. Das Buch findet eine Lesung nach Farbstoff, Tuch und Licht wieder.`,
    'no-curve-beside': ({ reason }) =>
      `Ein Streifen, der mit diesem zusammen gelesen werden sollte, hat keine Kurve${because(reason)} Lass ihn weg.`,
    'no-curve-to-go-by': ({ reason }) =>
      `Jene Lesung hat keine Kurve, nach der es gehen könnte${because(reason)} Wähle eine andere Eichung.`,
    'no-curve-to-write': () => 'Jene Lesung hat keine Kurve, die sich aufschreiben ließe.',
    'strips-of-different': () =>
      'Streifen mit verschiedenem Farbstoff, Tuch oder Licht lassen sich nicht zusammen lesen. Lass den anderen weg oder berichtige seine Namen.',
    'id-taken': () => 'Unter dieser Kennung hat das Buch eine andere Lesung. Schicke sie unter einer neuen.',
    'name-taken': () => 'Das Buch hat schon eines dieses Namens. Nimm jenes oder wähle einen anderen Namen.',
    'names-nothing': () => 'Das verweist auf etwas, das nicht im Buch steht. Lade die Liste neu.',
    'not-in-book': ({ what }) => `Im Buch gibt es ${KEPT[what] ?? 'das'} nicht. Lade die Liste neu.`,
    'day-to-come': () => 'Der Tag der Belichtung kommt erst noch. Prüfe das Datum.',
    'print-pieces': ({ pieces }) =>
      `Die Lesung eines Drucks braucht ein einziges belichtetes Stück; diese hat ${pieces}. Markiere den Druck als eine Stufe.`,
    'control-bare': () => 'Der Kontrollrest hat kein belichtetes Stück, nur einen Grund. Belichte eines.',
    'control-unheld': () =>
      'Sage, gegen welche Eichung der Kontrollrest gehalten wird, oder bewahre zuerst seine Lesung auf.',
    'control-without-strip': () =>
      'Das Buch hat aus der Zeit davor keine Eichung dieses Farbstoffs, Tuchs und Lichts. Bewahre zuerst einen Teststreifen auf oder nenne die Eichung, gegen die er gehalten wird.',
    'control-of-another': () =>
      'Der Kontrollrest ist von anderem Farbstoff oder Tuch als die Eichung: Eine Verschiebung gilt nur für einen Farbstoff auf einem Tuch.',
    'target-unfit': () =>
      'Das Ziel muss ein L* von 0 bis 100 sein, eine Tiefe über 0 bis 100 %, volle Tiefe oder ein Muster.',
    'upload-large': ({ megabytes }) =>
      `Ein Foto darf bis zu ${megabytes} MB haben. Sichere es als JPEG oder kleiner und schicke es noch einmal.`,
    'took-long': ({ seconds }) =>
      `Dieses Foto brauchte länger als ${seconds} s. Versuche es kleiner (12 Megapixel sind reichlich).`,
    'phones-many': ({ most }) =>
      `Es sind schon ${most} Telefone gekoppelt. Beende eines davon am Computer und versuche es noch einmal.`,
    'photo-memory': () =>
      'Um dieses Foto zu lesen, reichte der Speicher nicht. Schneide es auf Streifen und Karte zu oder sichere es kleiner.',
    'archive-refused': ({ as, why }) =>
      `${
        {
          none: 'Das ist kein Archiv eines Tonestep-Buchs',
          damaged: 'Das Archiv ist beschädigt',
          huge: 'Das Archiv ist größer, als ein Buch sein kann',
        }[as]
      }: ${germanArchiveReason(why)}.${as === 'damaged' ? ' Kopiere es noch einmal von dort, wo es entstand.' : ''} Es wurde nichts eingebracht.`,
    'archive-room': ({ megabytes }) =>
      `Die Platte mit dem Buch hat für dieses Archiv keinen Platz: Seine Fotos brauchen ${megabytes} MB. Schaffe Platz und bringe es noch einmal ein. Es wurde nichts eingebracht.`,
  };
};
