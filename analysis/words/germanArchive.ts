/** Things of a book, as an archive's refusal names them. */
const THING: Readonly<Record<string, string>> = {
  book: 'book.json',
  reading: 'Lesung',
  readings: 'Lesung',
  photo: 'Foto',
  dye: 'Farbstoff',
  cloth: 'Tuch',
  light: 'Licht',
  batch: 'Ansatz',
  card: 'Karte',
  plan: 'Plan',
  control: 'Kontrollrest',
  print: 'Druck',
  'a reading': 'eine Lesung',
  'book.json': 'book.json',
};
const thing = (name: string): string => THING[name] ?? `„${name}“`;

/** What is wrong with an archive: the server's English, and what German says of it with what varies in it. */
const REASONS: readonly (readonly [english: RegExp, german: (...varying: string[]) => string])[] = [
  [/^a file in it can not be unpacked$/, () => 'eine Datei darin lässt sich nicht auspacken'],
  [
    /^a file in it has another size than its table of contents says$/,
    () => 'eine Datei darin ist anders groß, als sein Inhaltsverzeichnis sagt',
  ],
  [/^a file that it names is missing$/, () => 'eine Datei, die es nennt, fehlt'],
  [/^a photo changed while it was brought in$/, () => 'ein Foto änderte sich, während es eingebracht wurde'],
  [/^a photo is not what its name says$/, () => 'ein Foto ist nicht das, was sein Name sagt'],
  [/^a reading is not what book\.json says$/, () => 'eine Lesung ist nicht die, die book.json nennt'],
  [
    /^the sizes in its table of contents contradict each other$/,
    () => 'die Größen in seinem Inhaltsverzeichnis widersprechen sich',
  ],
  [/^its end is missing$/, () => 'sein Ende fehlt'],
  [/^its table of contents can not be read$/, () => 'sein Inhaltsverzeichnis lässt sich nicht lesen'],
  [/^(.+) is not JSON$/, (what) => `${thing(what)} ist kein JSON`],
  [
    /^a (\w+) that book\.json names is missing$/,
    (what) => `es fehlt etwas, das book.json nennt: ${thing(what)}`,
  ],
  [
    /^a file in it unpacks to more than (\d+) times its size$/,
    (times) => `eine Datei darin wird ausgepackt mehr als ${times}-mal so groß`,
  ],
  [
    /^it has more than (\d+) GB; use "tonestep import" on the computer$/,
    (size) => `es hat mehr als ${size} GB; nimm „tonestep import“ am Computer`,
  ],
  [/^it holds (\d+) files$/, (count) => `es enthält ${count} Dateien`],
  [/^it holds more than (\d+) files$/, (count) => `es enthält mehr als ${count} Dateien`],
  [
    /^one (\w+) in it would have (\d+) bytes$/,
    (what, bytes) => `eine Datei darin hätte ${bytes} Bytes (${thing(what)})`,
  ],
  [
    /^a file in it is given out for a photo and is none$/,
    () => 'eine Datei darin wird für ein Foto ausgegeben und ist keines',
  ],
  [
    /^a reading has a further photo that book\.json does not name$/,
    () => 'eine Lesung hat ein weiteres Foto, das book.json nicht nennt',
  ],
  [
    /^book\.json has a reading whose photo it does not name$/,
    () => 'book.json hat eine Lesung, deren Foto es nicht nennt',
  ],
  [/^book\.json names a photo twice$/, () => 'book.json nennt ein Foto zweimal'],
  [/^it has no book\.json$/, () => 'es hat kein book.json'],
  [
    /^it holds a file that book\.json does not name$/,
    () => 'es enthält eine Datei, die book.json nicht nennt',
  ],
  [/^it holds a file that does not belong in one$/, () => 'es enthält eine Datei, die nicht in eines gehört'],
  [
    /^it holds a link or a folder in place of a file$/,
    () => 'es enthält einen Verweis oder einen Ordner statt einer Datei',
  ],
  [/^it holds two files of one name$/, () => 'es enthält zwei Dateien desselben Namens'],
  [/^it is encrypted$/, () => 'es ist verschlüsselt'],
  [/^it is no ZIP file$/, () => 'es ist keine ZIP-Datei'],
  [
    /^it is packed in a way that is not used here$/,
    () => 'es ist auf eine Art gepackt, die hier nicht vorkommt',
  ],
  [/^its book\.json is of another format$/, () => 'sein book.json hat ein anderes Format'],
  [
    /^its readings stand in for each other in a circle$/,
    () => 'seine Lesungen gelten im Kreis statt einander',
  ],
  [/^two files in it lie on the same bytes$/, () => 'zwei Dateien darin liegen auf denselben Bytes'],
  [/^two rows of book\.json have one id$/, () => 'zwei Zeilen von book.json haben eine Kennung'],
  [
    /^two things of one kind in book\.json have one name$/,
    () => 'zwei Dinge einer Art in book.json haben einen Namen',
  ],
  [
    /^(.+) is not as it should be: (.+)$/,
    (what, issue) => `${thing(what)} ist nicht, wie es sein soll („${issue}“)`,
  ],
  [
    /^(.+) nests deeper than (\d+) levels$/,
    (what, levels) => `${thing(what)} ist tiefer geschachtelt als ${levels} Stufen`,
  ],
  [
    /^book\.json points to a (\w+) that is not in it$/,
    (what) => `book.json verweist auf etwas, das nicht darin ist: ${thing(what)}`,
  ],
];

/** Why an archive is not brought in, in German; the server's own words in quotation marks where there are none. */
export const germanArchiveReason = (why: string): string => {
  for (const [english, german] of REASONS) {
    const [, ...varying] = english.exec(why) ?? [];
    if (english.test(why)) return german(...varying);
  }
  return `„${why}“`;
};
