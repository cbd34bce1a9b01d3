import type { Area, Phrase, Phrasing } from '../phrases.ts';
import type { Formats } from './formats.ts';
import { GERMAN_SKY, germanPatch } from './germanNames.ts';
import { germanRefusals } from './germanRefusals.ts';

const patch = germanPatch;
const MODEL = {
  'build-up': 'Kurve des Farbaufbaus',
  logistic: 'logistische Kurve',
  monotone: 'glatte Kurve durch die Stufen',
} as const;

const LIGHT = {
  tubes: 'Ultraviolettröhren',
  led: 'Ultraviolett-LEDs',
  sun: 'die Sonne',
  other: 'anderes Licht',
} as const;
/** Places on the bed. */
const PLACE: Readonly<Record<string, string>> = {
  'left side': 'links',
  'right side': 'rechts',
  'top side': 'oben',
  'bottom side': 'unten',
  'top left side': 'oben links',
  'top right side': 'oben rechts',
  'bottom left side': 'unten links',
  'bottom right side': 'unten rechts',
  'all edges': 'ringsum',
  'left and right edges': 'links und rechts',
  'top and bottom edges': 'oben und unten',
  'top left': 'oben links',
  'top right': 'oben rechts',
  'bottom left': 'unten links',
  'bottom right': 'unten rechts',
};

/** What the analysis says, in German, by its numbers. */
export const germanPhrasing = (formats: Formats): Phrasing => {
  const { number: n, time: t } = formats;
  const area = (where: Area): string =>
    'patch' in where
      ? `Kartenfeld ${patch(where.patch)}`
      : where.seconds === 0
        ? 'Unbelichteter Grund'
        : `Stufe ${t(where.seconds)}`;
  const percent = (share: number, decimals = 0): string => `${n(100 * share, decimals)} %`;
  const others = (more: number): string =>
    more === 0 ? '' : ` (und ${more} ${more === 1 ? 'weitere Fläche' : 'weitere Flächen'})`;
  const upper = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

  const ratio = (value: number): string => `${value < 10 ? n(value, 1) : n(value, 0)} : 1`;

  /** A number that a person set, with the decimals it has. */
  const own = (value: number): string =>
    n(value, Number.isInteger(value) ? 0 : value * 10 === Math.round(value * 10) ? 1 : 2);
  const end = (value: number | null): string => (value === null ? 'offen' : signed(value));
  const signed = (value: number): string => `${value < 0 ? '−' : ''}${n(Math.abs(value), 2)}`;
  type Ends = { readonly value: number | null; readonly low: number | null; readonly high: number | null };
  /** "1,00 Blenden langsamer (0,90 bis 1,10)": the size, with its interval turned to the same side. */
  const amount = ({ value, low, high }: Ends, up: string, down: string): string => {
    const size = value ?? 0;
    const side = Math.sign(size || 1);
    const [from, to] = side < 0 ? [high, low] : [low, high];
    const said = (one: number | null): string => end(one === null ? null : one * side);
    return `${n(Math.abs(size), 2)} ${side < 0 ? down : up} (${said(from)} bis ${said(to)})`;
  };

  /** A sentence that is part of another; nothing where an archive of another version has one that is not known here. */
  const within = ({ id, values }: Phrase): string =>
    (phrases as Readonly<Record<string, (given: never) => string>>)[id]?.(values as never) ?? '';

  const phrases: Phrasing = {
    ...germanRefusals(formats, (one) => within(one)),

    blurred: ({ spreadPx, limitPx }) =>
      `Selbst die schärfsten Kanten von Karte und Streifen verlaufen über ${n(spreadPx, 0)} px; in einem scharfen Foto dieser Größe sind es höchstens ${n(limitPx, 0)} px. Tippe zum Scharfstellen auf die Karte, stütze das Telefon auf, nimm mehr Licht und wische die Linse ab.`,
    'card-burnt': ({ area: at, more, share }) =>
      `${area(at)}${others(more)}: ausgebrannt in ${percent(share)} der Bildpunkte. Fotografiere dunkler: Tippe auf das Weiß und zieh die Helligkeit um etwa eine Blende herunter.`,
    'step-burnt': ({ area: at, more, share }) =>
      `${area(at)}${others(more)}: ausgebrannt in ${percent(share)} der Bildpunkte; so hell wie angegeben oder heller, und in der Kurve zählt das wenig. Fotografiere dunkler: Tippe auf das Weiß und zieh die Helligkeit um etwa eine Blende herunter.`,
    'card-blocked': ({ area: at, more, share }) =>
      `${area(at)}${others(more)}: zu reinem Schwarz zugelaufen in ${percent(share)} der Bildpunkte. Fotografiere mit mehr Licht.`,
    'step-channel-zero': ({ area: at, more, share }) =>
      `${area(at)}${others(more)}: ein Farbkanal steht auf null in ${percent(share)} der Bildpunkte, die Farbe ist für diese Datei zu tief oder zu kräftig. Nimm mehr Licht und, wo die Kamera es hat, einen weiten Farbraum (Display P3).`,
    'shadow-edge': ({ area: at, share }) =>
      `Der Rand eines Schattens läuft über Karte und Streifen (${area(at)}): Das Licht ändert sich dort um ${percent(share)}. Stell dich so, dass weder du noch das Telefon noch ein Fensterrahmen Schatten darauf wirft. Ist da keiner, sieh nach, ob eine Markierung über ihre Fläche hinausreicht.`,
    glare: ({ area: at, share }) =>
      `Eine Lampe oder ein Fenster spiegelt sich (${area(at)}): Eine Stelle ist ${percent(share)} heller als eine andere. Rücke Lampe oder Kamera, bis der Glanz weg ist, sodass das Licht von der Seite kommt. Glänzt nichts, sieh nach, ob die Markierung über ihre Fläche hinausreicht.`,
    'light-uneven': ({ factor }) =>
      `Das Licht auf Karte und Streifen ist an der hellsten Stelle ${n(factor, 1)}-mal so stark wie an der dunkelsten. Stelle die Lampe weiter weg oder lege beides gleich weit von Lampe oder Fenster.`,
    oblique: ({ factor }) =>
      `Das nahe Ende von Karte und Streifen sieht ${factor === null ? 'viele Male' : `${n(factor, 1)}-mal`} so groß aus wie das ferne: Das Foto wurde von der Seite aufgenommen, wo Tuch glänzt und die Schärfe nachlässt. Halte die Kamera gerade darüber, etwas weiter weg.`,
    'area-small': ({ area: at, px, leastPx, filled }) =>
      `${area(at)}: nur ${n(px, 0)} px breit; für einen verlässlichen Mittelwert braucht es ${leastPx} px oder mehr. ${
        filled === null
          ? 'Nimm das Foto, wie die Kamera es gemacht hat, keine verkleinerte Kopie, oder fotografiere weniger Stufen auf einmal.'
          : `Karte und Streifen füllen nur ${percent(filled)} des Fotos: Geh näher heran, bis sie es ausfüllen.`
      }`,
    'photo-far': ({ share }) =>
      `Karte und Streifen füllen nur ${percent(share)} des Fotos. Zum Lesen sind sie groß genug, aber geh beim nächsten Mal näher heran, bis sie es ausfüllen: Dann sitzen die Markierungen genauer.`,
    'photo-small': ({ widthPx, heightPx }) =>
      `Das Foto hat nur ${widthPx} × ${heightPx} px. Telefone machen viel größere: Gib die Originaldatei her, keine, die eine Nachricht oder eine Webseite verkleinert hat.`,
    'light-mixed': ({ share }) =>
      `Die Farbe des Lichts wechselt über Karte und Streifen, Rot gegen Blau um ${percent(share)}, wie zwischen Fenster und Lampe. Nimm nur eine Art Licht: Zieh den Vorhang zu oder schalte die Lampe aus.`,

    'sheet-paper': () =>
      'Vom Messblatt gelesen. Sein Papier zeigt, wie gleichmäßig das Licht ist, gilt aber nie als Weiß: Aufheller lassen Papier heller und blauer aussehen, als es ist. Was neutral ist, sagt allein die Karte.',
    'steps-not-marked': ({ missing, of }) =>
      `${missing} von ${of} Stufen ${missing === 1 ? 'ist nicht markiert und blieb' : 'sind nicht markiert und blieben'} weg.`,
    'marks-uncertain': ({ why, needs }) =>
      `Karte und Stufen wurden gefunden, aber nicht sicher${why.length === 0 ? '' : ` (${why.map(within).join('; ')})`}. Sieh dir die Markierungen im Foto an. ${needs.map(within).join(' ')}`.trim(),
    'count-differs': ({ other, of }) =>
      `Das Foto zeigt wohl ${other === 'fewer' ? 'weniger' : 'mehr'} Stufen als die ${of}, für die eine Zeit dasteht. Darum ist nicht sicher, welche Zeit zu welcher Stufe gehört, und es gibt keine Zeit. Zähle die Stufen, die unbelichtete mit, und berichtige die Zeiten; stimmt die Zahl, setze die Markierungen von Hand.`,
    'doubt-patch-look': () =>
      'das graue Feld ist nicht so neutral, gleichmäßig oder dunkel, wie es sein sollte',
    'doubt-card-look': () => 'die Felder der Karte sehen nicht ganz so aus wie die dieser Karte',
    'doubt-card-rival': () => 'etwas anderes im Foto könnte ebenso die Karte sein',
    'doubt-card-faint': () => 'die meisten Felder der Karte heben sich nicht von ihrer Umrandung ab',
    'doubt-direction': () => 'die Stufen könnten auch andersherum verlaufen',
    'doubt-place': () => 'der Streifen könnte eine Stufe weiter beginnen oder enden',
    'doubt-fewer': () => 'der Streifen scheint weniger Stufen zu haben als angegeben',
    'doubt-more': () => 'der Streifen scheint mehr Stufen zu haben als angegeben',
    'doubt-cloth-beside': () => 'neben den Stufen liegt gefärbtes Tuch',
    'doubt-strip-rival': () => 'etwas anderes im Foto könnte ebenso der Streifen sein',
    'doubt-bare-start': () =>
      'die erste Stufe sieht aus wie blankes Tuch, und davon liegt noch mehr dahinter',
    'doubt-few-borders': () => 'nur wenige Grenzen zwischen den Stufen sind zu sehen',
    'doubt-strip-faint': () => 'der Streifen hebt sich kaum von seiner Unterlage ab',
    'doubt-steps-alike': () => 'die Stufen unterscheiden sich kaum',
    'doubt-uneven-width': () => 'die Stufen sind ungleich breit',
    'doubt-scraps-unclear': () => 'einige Reststücke waren nicht deutlich zu sehen',
    'doubt-more-pieces': () => 'es liegen mehr Stücke Tuch da als Stufen',
    'doubt-scraps-direction': () => 'die Reststücke könnten auch andersherum verlaufen',
    'doubt-scraps-order': () => 'die Reststücke könnten auch in anderer Reihenfolge liegen',
    'doubt-scraps-not-darker': () => 'die Reststücke werden nicht eins nach dem anderen dunkler',
    'need-card': () =>
      'Welche Fläche die Karte ist, ist nicht sicher. Tippe auf die Karte oder setze ihre Felder von Hand.',
    'need-strip': () =>
      'Wo die Stufen liegen, ist nicht sicher. Tippe auf den Streifen oder setze die Stufen von Hand.',
    'need-count': () =>
      'Der Streifen hat vielleicht eine andere Zahl von Stufen, als Zeiten dastehen. Zähle die Stufen, die unbelichtete mit, und berichtige die Zeiten oder setze die Stufen von Hand.',
    'need-direction': () =>
      'An welchem Ende des Streifens die kürzeste Belichtung liegt, ist nicht sicher. Sieh nach, ob die erste Markierung auf der am wenigsten belichteten Stufe liegt; wenn nicht, setze die Stufen von Hand.',

    'hardly-any-table': () => 'um Karte und Streifen ist kaum Tisch im Foto',
    'table-not-plain': () => 'was um Karte und Streifen liegt, ist keine einfarbige Fläche',
    'light-by-table': ({ spread, open }) =>
      `Der Tisch um Karte und Streifen schwankt von sich aus um ${percent(spread, 1)}, was ${percent(open, 1)} offen lässt.`,
    'light-by-base': ({ lacking, open }) =>
      `${upper(within(lacking))}, darum wurde das unbelichtete Tuch entlang des Streifens verwendet, was ${percent(open, 1)} offen lässt.`,
    'light-by-cards': ({ lacking, open }) =>
      `${upper(within(lacking))}, darum wurden die beiden Karten verglichen, was ${percent(open, 1)} offen lässt.`,
    'light-within-patches': ({ lacking, open }) =>
      `${upper(within(lacking))}, darum blieb nur, wie sich das Licht innerhalb jedes Felds und jeder Stufe ändert, was ${percent(open, 1)} offen lässt.`,
    'light-not-evened': ({ reason }) =>
      `Das Tischlicht ließ sich nicht gut ausgleichen. ${within(reason)} Lege Karte und Streifen auf eine einfarbige Platte, die das Foto ausfüllt.`,
    'patch-left-out': ({ patch: name, reason }) => `Kartenfeld ${patch(name)} blieb weg: ${within(reason)}.`,
    'patch-clipped': ({ share, dark }) =>
      `im Foto ${dark ? 'zugelaufen' : 'ausgebrannt'} (${percent(share)} seiner Bildpunkte); fotografiere ${dark ? 'heller' : 'etwas dunkler'}`,
    'patch-uneven': ({ share }) =>
      `ungleichmäßig (${percent(share)} von Stelle zu Stelle); suche nach Glanz, Schatten oder einer falschen Markierung`,
    'patch-coloured': () =>
      'von anderer Farbe als die übrigen Felder; sieh nach, ob die Markierung auf der Karte liegt',
    'one-lightness': () =>
      'Die brauchbaren Kartenfelder sind gleich hell, darum ist der Ton der Kamera nicht bekannt: Die Helligkeiten sind relativ und sehr unsicher. Eine Karte mit Weiß, Grau und Schwarz ist besser.',
    'card-names-unknown': ({ names }) =>
      `Kein markiertes Feld gehört zu dieser Karte. Ihre Felder heißen ${names.map(patch).join(', ')}.`,
    'card-none-usable': ({ refused }) =>
      `Kein Kartenfeld ist brauchbar. ${refused.map(({ patch: name, reason }) => `${patch(name)}: ${within(reason)}.`).join(' ')} Fotografiere noch einmal.`,
    'card-order': ({ lighter, darker }) =>
      `Kartenfeld ${patch(lighter)} ist im Foto heller als ${patch(darker)}, sollte aber dunkler sein. Prüfe die Reihenfolge der Felder und suche nach Schatten oder Glanz auf der Karte.`,
    'card-contrast-low': ({ lighter, darker, seen, known }) =>
      `Die Kartenfelder ${patch(lighter)} und ${patch(darker)} unterscheiden sich kaum (${ratio(seen)} im Foto, ${ratio(known)} auf der Karte). Prüfe, ob die Markierungen auf der Karte liegen, ob es die angegebene Karte ist, und ihre Werte.`,
    'card-contrast-high': ({ lighter, darker, seen, known }) =>
      `Die Kartenfelder ${patch(lighter)} und ${patch(darker)} unterscheiden sich zu sehr (${ratio(seen)} im Foto, ${ratio(known)} auf der Karte). Prüfe, ob die Markierungen auf der Karte liegen, ob es die angegebene Karte ist, und ihre Werte.`,
    'card-beyond-white': ({ seconds }) =>
      `Nach dieser Karte wäre die Stufe ${t(seconds)} weit heller als Weiß. Prüfe, ob die Markierungen auf der Karte liegen, ob es die angegebene Karte ist, und ihre Werte; suche nach einem Schatten darauf.`,

    'curve-chosen': ({ model, aicc, other, otherAicc, alike, scatterL }) =>
      `Genommen ist die ${MODEL[model]}: AICc ${n(aicc, 1)} gegen ${n(otherAicc, 1)} für die ${MODEL[other]}; ${alike ? 'beide passen, und ihr Unterschied gehört zum Bereich' : 'die niedrigere passt besser'}.${
        scatterL === null
          ? ''
          : ` Die Stufen streuen um ${n(scatterL, 1)} L* mehr als ihre angegebene Unsicherheit, was den Bereich weitet.`
      }`,
    'curve-interpolated': ({ scatterL, mostL, misfit }) =>
      `Genommen ist die glatte Kurve durch die Stufen: Beide Modelle verfehlen die Punkte um mehr als ihre Unsicherheit und eine Streuung von ${n(scatterL, 1)} L* (bis zu ${n(mostL, 1)} L*, ${n(misfit, 1)} Standardabweichungen zu viel).`,
    'curve-unsettled': () =>
      'Die Suche nach der Kurve kam nicht zur Ruhe: Nimm sie als Skizze und mach den nächsten Streifen.',
    'base-estimated': ({ L }) =>
      `Es gibt keine unbelichtete Stufe: Der Grund, L* ${n(L, 0)}, ist geschätzt. Behalte nächstes Mal ein unbelichtetes Stück.`,
    'deepest-open': () => 'Der Streifen endet, während er noch tiefer wird: Sein Tiefstes ist nicht bekannt.',
    'deepest-rough': ({ L, range }) =>
      `Das Tiefste, L* ${n(L, 0)}, ist nur auf ±${n(range, 0)} L* bekannt: Der Streifen erreicht noch keine Ebene.`,
    reversed: ({ seconds }) =>
      `Ab ${t(seconds)} werden die Stufen wieder heller; sie bleiben aus der Kurve weg. Fotografiere nach ein, zwei Tagen Trocknen noch einmal, bevor du es Umkehr nennst: Ausbleichen oder Verlust beim Waschen sehen ebenso aus.`,
    'too-few-steps': ({ exposed, base, suggested }) => {
      const have =
        exposed === 0
          ? 'keine belichtete Stufe'
          : exposed === 1
            ? 'eine belichtete Stufe'
            : 'zwei belichtete Stufen';
      const add =
        exposed === 0
          ? `Belichte mindestens zwei Stufen${base ? '' : ' und behalte ein unbelichtetes Stück'}.`
          : exposed === 1
            ? `Füge mindestens eine Stufe mit anderer Zeit hinzu, etwa ${suggested.map(t).join(' oder ')}${base ? '' : ', und ein unbelichtetes Stück desselben Tuchs'}.`
            : 'Füge ein unbelichtetes Stück desselben Tuchs hinzu oder eine dritte Stufe.';
      return `Zu wenige Stufen für eine Kurve: Da ${exposed === 2 ? 'sind' : 'ist'} ${have}${base ? ' und der Grund' : ''}. ${add}`;
    },
    'all-alike': () =>
      'Alle Stufen sehen gleich aus, und kein unbelichtetes Stück liegt daneben: Sie können alle leer sein oder alle voll. Füge ein unbelichtetes Stück und viel kürzere Stufen hinzu; ist das Tuch blass, prüfe zuerst die Lichtquelle.',
    'colour-moves': ({ deltaE }) =>
      `Keine Stufe ist dunkler als der Grund, obwohl sich die Farbe um bis zu ${n(deltaE, 1)} ΔE00 bewegt. Eine Helligkeitskurve kann diesem Farbstoff keine Zeit geben; prüfe zuerst die Lichtquelle, dann die Reihenfolge der Stufen.`,
    'blank-strip': () =>
      'Der Streifen ist leer: Keine Stufe ist vom Grund zu unterscheiden. Prüfe zuerst die Lichtquelle (eine Lampe, auf die dieser Farbstoff anspricht, eingeschaltet und warm?), dann die Beschichtung und das Waschen.',

    'next-after-light': ({ seconds }) =>
      `Sobald die Lichtquelle sicher arbeitet: sechs Stufen im Abstand von einer Blende ab ${t(seconds)} und ein unbelichtetes Stück.`,
    'next-whole-curve': ({ seconds }) =>
      `Sechs Stufen im Abstand von einer Blende um ${t(seconds)} und ein unbelichtetes Stück zeigen die ganze Kurve.`,
    'next-steps': ({ seconds, widthStops }) =>
      `Ein unbelichtetes Stück und ${seconds.length} Stufen: ${seconds.map(t).join(', ')}. ${
        widthStops === null
          ? 'Sie zeigen, wie die Kurve dort verläuft.'
          : `Für sich allein sollten sie einen Bereich von ${n(widthStops, 2)} Blenden lassen.`
      }`,

    together: ({ parts }) => parts.map(within).join(' '),
    'mixed-cloths': ({ names }) =>
      `Die Streifen haben verschiedenes Tuch (${names.join(', ')}), ein Unterschied käme darum nicht vom Farbstoff allein. Vergleiche Streifen auf einem Tuch unter einem Licht.`,
    'mixed-lights': ({ names }) =>
      `Die Streifen haben verschiedenes Licht (${names.join(', ')}), ein Unterschied käme darum nicht vom Farbstoff allein. Vergleiche Streifen auf einem Tuch unter einem Licht.`,
    'dye-pair': ({ first, second, depthPercent, speed, deepest }) => {
      const faster = amount(speed, 'Blenden schneller', 'Blenden langsamer');
      const paler = amount(deepest, 'L* heller', 'L* tiefer');
      const quick =
        speed.verdict === 'unknown'
          ? `Wie schnell ${second} und ${first} bei ${depthPercent} % Tiefe sind, ist nicht bekannt`
          : speed.verdict === 'different'
            ? `${second} ist bei ${depthPercent} % Tiefe ${faster} als ${first}`
            : `${second} und ${first} sind bei ${depthPercent} % Tiefe gleich schnell, soweit es sich sagen lässt: grob ${faster}`;
      const deep =
        deepest.verdict === 'different'
          ? `${second} endet ${paler}`
          : `wo sie enden, ist nicht zu unterscheiden: grob ${paler}`;
      return `${quick}; ${deep}.`;
    },
    transferred: ({ shift, factor }) =>
      `Das neue Licht wirkt ${n(Math.abs(shift.value ?? 0), 2)} Blenden ${(shift.value ?? 0) < 0 ? 'langsamer' : 'schneller'} (90 %: ${end(shift.low)} bis ${end(shift.high)}): Nimm Zeiten mal ${end(factor.value)} (${end(factor.low)} bis ${end(factor.high)}).`,
    'scraps-off': ({ palest, deepest, depths, instead }) =>
      `Der Kontrollrest muss zwischen ${palest} und ${deepest} % Tiefe liegen, damit er seine Belichtung verrät; gelesen: ${depths.map((depth) => `${n(depth, 0)} %`).join(', ')}. ${
        {
          quarter: 'Belichte einen Rest für ein Viertel der Zeit.',
          fourfold: 'Belichte einen Rest viermal so lang; bleibt er leer, prüfe zuerst die Lichtquelle.',
          between: 'Belichte einen für eine Zeit dazwischen.',
        }[instead]
      }`,
    'scraps-disagree': ({ first, last, apart }) =>
      `Die Reste bei ${t(first)} und ${t(last)} sind sich um ${n(apart, 2)} Blenden uneins, mehr als ihre Ablesung erklärt: Der Kontrast hat sich geändert, nicht nur die Geschwindigkeit. Mach einen neuen Streifen.`,
    'scraps-left-out': ({ count, palest, deepest }) =>
      `${count} ${count === 1 ? 'Rest liegt' : 'Reste liegen'} außerhalb von ${palest} bis ${deepest} % Tiefe, ${count === 1 ? 'sagt nichts und bleibt' : 'sagen nichts und bleiben'} weg.`,
    'large-shift': () =>
      'Mehr als eine Blende: Über so einen Faktor gilt Licht mal Zeit vielleicht nicht mehr (Reziprozität). Prüfe die umgerechnete Zeit an einem Rest.',
    'not-vouched': ({ L, baseL, deepestL }) =>
      `Für L* ${n(L, 1)} steht der frühere Streifen nicht ein: Er reicht von ${n(baseL, 1)} bis ${n(deepestL, 1)} und eine Blende über seine längste Stufe hinaus. Wähle ein anderes Ziel oder mach einen neuen Streifen.`,

    'drift-gathering': ({ changed, count, more }) =>
      `${changed ? 'Etwas wurde umgestellt, darum beginnt die Reihe neu. ' : ''}Bisher ${count} ${count === 1 ? 'Kontrollrest' : 'Kontrollreste'}: noch ${more}, bis sich eine Änderung vom Zufall unterscheiden lässt.`,
    'drift-steady': () => 'Das Licht ist gleichmäßig: seit Beginn der Reihe nichts über den Zufall hinaus.',
    'drift-drifting': ({ level, factor }) =>
      `Das Licht wirkt ${n(Math.abs(level), 2)} Blenden ${level < 0 ? 'langsamer' : 'schneller'} als zu Beginn der Reihe: Nimm Zeiten mal ${n(factor, 2)} und suche die Ursache.`,
    'drift-jump': ({ newest }) =>
      `Der neueste Rest liegt ${n(Math.abs(newest), 2)} Blenden ${newest < 0 ? 'zu langsam' : 'zu schnell'}, mehr als der Zufall tut. Wiederhole ihn, bevor du eine Zeit änderst.`,
    'drift-provisional': ({ count }) => `Die Grenzen sind vorläufig: ${count} von 20 Resten.`,
    'drift-fading': ({ rate, low, high }) => {
      const [least, most] = [Math.abs(low), Math.abs(high)].sort((a, b) => a - b);
      return `Es ${rate < 0 ? 'verliert' : 'gewinnt'} ${n(Math.abs(rate), 2)} Blenden je 100 Lampenstunden (90 %: ${n(least, 2)} bis ${n(most, 2)}).`;
    },

    'bed-band-low': ({ along, number, share }) =>
      `${along === 'row' ? 'Zeile' : 'Spalte'} ${number} bekommt ${percent(share)} weniger Licht: Dort lässt vielleicht eine Röhre nach. Röhren ersetzt man am besten alle zusammen; mach danach eine neue Kurve.`,
    'bed-bands': ({ along }) =>
      `Helle und dunkle Bänder laufen entlang der ${along === 'row' ? 'Zeilen' : 'Spalten'}: Das Belichtungsbett liegt für den Abstand der Röhren zu nah. Rücke es mindestens so weit von ihnen ab, wie sie voneinander liegen, und mach eine neue Kurve.`,
    'bed-open': ({ tilt, across, down }) =>
      `Die Felder unterscheiden sich von Seite zu Seite um bis zu ${percent(tilt)}, aber das Licht des Fotos selbst lässt ${percent(across)} von links nach rechts und ${percent(down)} von oben nach unten offen: Lampe und Foto sind nicht zu unterscheiden. Fotografiere den Bogen noch einmal umgedreht und gib beide Fotos her.`,
    'bed-side-low': ({ where, share }) =>
      `${upper(PLACE[where] ?? where)} kommt ${percent(share)} weniger Licht an als gegenüber: Rücke die Lampe in die Mitte und gerade über das Belichtungsbett, prüfe die Röhren dort oder ersetze alle zusammen. Seitliche Reflektoren helfen.`,
    'bed-edges-low': ({ where }) =>
      `Das Licht fällt zum Rand ab (${PLACE[where] ?? where}): Nimm die Mitte, stelle Reflektoren an die Seiten oder nimm eine Lampe, die weiter über den Bogen hinausreicht.`,
    'bed-middle-low': ({ where }) =>
      `In der Mitte kommt weniger Licht an als am Rand (${PLACE[where] ?? where}): Prüfe die mittleren Röhren, und ob der Bogen dort durchhängt oder das Glas sich hebt.`,
    'bed-corner-low': ({ where, share }) =>
      `In der Ecke ${PLACE[where] ?? where} kommt ${percent(share)} weniger Licht an: Suche nach einem Schatten, einem Röhrenende oder einem fehlenden Reflektor, oder lege dort keine Arbeit hin.`,
    'bed-even': () => 'Nichts ragt über die Unsicherheit hinaus: Es ist nichts zu ändern.',
    'bed-patchy': () =>
      'Einzelne Felder weichen ohne Muster ab: eher Beschichtung, Tuch oder Waschen als das Licht. Wiederhole es mit umgedrehtem Bogen; was am Belichtungsbett bleibt, ist das Licht.',
    'bed-map': ({ tolerancePercent, share, rows, columns, area: usable, pattern }) => {
      const part =
        usable === null
          ? 'kein Teil ist brauchbar'
          : usable.rows === rows && usable.columns === columns
            ? 'der ganze Bogen ist brauchbar'
            : `das größte brauchbare Rechteck hat ${usable.rows} × ${usable.columns} von ${rows} × ${columns} Feldern, ab Zeile ${usable.row + 1}, Spalte ${usable.column + 1}`;
      return `Innerhalb von ±${tolerancePercent} % liegen ${percent(share)} der Felder; ${part}. ${within(pattern)}`;
    },
    'bed-not-readable': ({ count, tooPale, tooDeep, missing, instead }) =>
      `Von ${count} Feldern sind ${tooPale} zu hell und ${tooDeep} zu tief, um ihre Belichtung zu verraten, und ${missing} fehlen. ${
        {
          photograph: 'Fotografiere den Bogen noch einmal, sodass er ganz zu lesen ist',
          half: 'Belichte einen anderen Bogen halb so lang',
          twice:
            'Belichte einen anderen Bogen doppelt so lang und prüfe die Lichtquelle, falls er leer bleibt',
        }[instead]
      }: Eine Karte des Lichts braucht mittlere Tiefe, 50 bis 80 %.`,
    'cells-beyond-curve': ({ near, of }) =>
      `${near} von ${of} Feldern sind tiefer als die längste Stufe des früheren Streifens, wo seine Kurve nur fortgesetzt ist: Trau ihnen weniger oder belichte den Bogen kürzer.`,

    'no-time-today': ({ targetL, unattainable, shortest, longest, baseL, deepestL }) => {
      const aim = targetL === null ? 'diesem Ziel' : `L* ${n(targetL, 1)}`;
      return unattainable
        ? `Keine Belichtung kommt zu ${aim}: Das unbelichtete Tuch hat L* ${n(baseL, 1)}, das Tiefste ist L* ${n(deepestL, 1)}. Wähle ein Ziel dazwischen.`
        : `Die Stufen der Eichung, ${t(shortest)} bis ${t(longest)}, kommen nicht bis zu ${aim}: Mach den nächsten Streifen.`;
    },
    'hours-unknown': ({ of }) =>
      `${
        {
          both: 'Die Lampenstunden sind weder von der Eichung noch von heute bekannt',
          calibration: 'Die Lampenstunden der Eichung sind nicht bekannt',
          today: 'Was der Stundenzähler heute zeigt, steht nicht da',
        }[of]
      }: Wie weit die Lampen seither nachgelassen haben, lässt sich nicht sagen. Notiere die Stunden bei jedem Streifen.`,
    'lamps-replaced': ({ hours, since, from }) =>
      `Der Zähler zeigt ${n(hours, 0)} h, weniger als die ${n(since, 0)} h ${from === 'calibration' ? 'der Eichung' : 'des Kontrollrests'}: Neue Lampen brauchen einen neuen Streifen.`,
    'lamp-hours': ({ hours, limit, from }) =>
      `Die Lampen haben seit ${from === 'calibration' ? 'der Eichung' : 'dem letzten Kontrollrest'} ${n(hours, 0)} h gebrannt, mehr als ${limit} h: Belichte einen Kontrollrest.`,
    'batch-not-noted': () =>
      'Kein Ansatz des Sensibilisators ist notiert, damals wie heute: Ein anderer kann anders schnell sein.',
    'batch-today-unknown': ({ was }) =>
      `Die Eichung entstand mit dem Ansatz „${was}“; welcher heute verwendet wird, steht nicht da.`,
    'batch-then-unknown': ({ now }) =>
      `Der Ansatz von heute ist „${now}“; mit welchem die Eichung entstand, ist nicht notiert.`,
    'batch-tried': ({ was, now }) =>
      `Die Eichung entstand mit dem Ansatz „${was}“; der Kontrollrest ist aus „${now}“.`,
    'batch-untried': ({ was, now }) =>
      `Die Eichung entstand mit dem Ansatz „${was}“, der von heute ist „${now}“: Belichte einen Kontrollrest daraus.`,
    'batch-older': ({ batch, daysNow, daysThen }) =>
      `Der Ansatz „${batch}“ ist ${n(daysNow, 0)} Tage alt und war bei der Eichung ${n(daysThen, 0)}: Sensibilisator ändert sich mit dem Alter. Belichte einen Kontrollrest.`,
    'sun-moves': () =>
      'Die Sonne hält nicht still: Lege einen Kontrollrest neben die Arbeit und richte dich nach ihm.',
    'sun-first': ({ hours }) =>
      `Eine Zeit in der Sonne wiederholt sich nicht: Belichte zuerst einen Kontrollrest, höchstens ${hours} Stunden vor der Arbeit.`,
    'season-changed': ({ days }) =>
      `Die Eichung ist ${n(days, 0)} Tage alt; die Sonne steht jetzt anders hoch.`,
    'sky-moved': ({ stops, today, madeFor }) =>
      `Um ${signed(stops)} Blenden verschoben, weil der Himmel heute ${GERMAN_SKY[today]} ist und damals ${GERMAN_SKY[madeFor]} war: ein grober Faktor, denn unter diesem Himmel wurde nichts gemessen.`,
    'sky-not-noted': () =>
      'Der Himmel der Eichung ist nicht notiert, darum ist die Zeit nicht für ihn verschoben.',
    'control-untold': () =>
      'Der neueste Kontrollrest ist zu hell oder zu tief, um etwas zu sagen. Belichte einen anderen.',
    'control-days': ({ days }) => {
      const whole = Math.floor(days);
      return `Der neueste Kontrollrest wurde ${whole < 1 ? 'heute' : whole === 1 ? 'gestern' : `vor ${n(whole, 0)} Tagen`} belichtet.`;
    },
    'card-changed': () =>
      'Die Eichung wurde neben einer anderen Karte gelesen: Karten unterscheiden sich, und 1 % in ihrem Wert bewegt L* um etwa eins. Lies einen Streifen neben beiden.',
    'light-borrowed': () =>
      'Unter diesem Licht gibt es keine Eichung: Die Zeit stammt von einem anderen Licht, verschoben nach einem Kontrollrest unter diesem.',
    'calibration-relative': () =>
      'Die Eichung wurde gegen eine Karte mit wenig Kontrast gelesen: Ihre Tiefen gelten nur gegen sich selbst. Fotografiere den Streifen noch einmal neben einer Karte mit Weiß und Schwarz.',
    'calibration-unconfirmed': () =>
      'Die Markierungen der Eichung wurden nicht sicher gefunden, und niemand hat sie angesehen. Öffne sie und prüfe sie.',
    'method-changed': ({ was, now }) =>
      `Die Eichung wurde nach Verfahren ${was} gelesen; jetzt gilt ${now}. Ihr Foto ist aufgehoben: Lies es noch einmal.`,
    'calibration-old': ({ days }) => `Die Eichung ist ${n(days, 0)} Tage alt.`,
    'beyond-steps': ({ seconds }) =>
      `Die Zeit liegt jenseits der Stufen der Eichung, wo nichts geprüft wurde: Mach einen Streifen mit längeren Stufen, bis ${t(seconds)}.`,
    'interval-wide': ({ stops }) =>
      `Der Bereich ist ${n(stops, 2)} Blenden weit: Noch ein Streifen um diese Zeit macht ihn enger.`,
    'interval-open': () =>
      'Wie lange es dauern könnte, hat in dem, was der Streifen verrät, kein oberes Ende: Ein Streifen mit längeren Stufen gibt ihm eines.',
    'prints-judged': ({ count, of, side }) =>
      `Von ${of} nach Auge beurteilten Drucken kamen ${count} ${side === 'deeper' ? 'tiefer' : 'heller'} heraus als versprochen: Mach einen neuen Streifen.`,
    'prints-missed': ({ count, stops }) =>
      `${count} Drucke kamen im Mittel ${n(Math.abs(stops), 2)} Blenden ${stops > 0 ? 'tiefer' : 'heller'} heraus als versprochen: Mach einen neuen Streifen.`,

    'step-base': ({ L }) =>
      `Das ist der unbelichtete Grund, L* ${n(L, 1)}: Mit ihm werden die Stufen verglichen.`,
    'step-not-told': ({ deltaE, least }) =>
      `Unterscheidet sich um ΔE00 ${n(deltaE, 1)} vom Grund, weniger als ${own(least)}: nicht zu erkennen.`,
    'step-within-u': ({ deltaE, times, u }) =>
      `Unterscheidet sich um ΔE00 ${n(deltaE, 1)} vom Grund, weniger als das ${own(times)}-Fache der Unsicherheit von ${n(u, 1)}.`,
    'step-time-unsure': ({ L }) =>
      `Ihr L* ist ${n(L, 1)}; welche Zeit sie bekam, ist nicht sicher, darum sagt nichts, wie nah das an voller Tiefe ist.`,
    'step-no-base': ({ L }) =>
      `Ihr L* ist ${n(L, 1)}; ohne Grund und mehr Stufen sagt nichts, wie nah das an voller Tiefe ist.`,
    'step-no-curve': ({ deltaE }) =>
      `Unterscheidet sich um ΔE00 ${n(deltaE, 1)} vom Grund; zu wenige Stufen, um zu sagen, wie nah das an voller Tiefe ist.`,
    'step-reversed': ({ L, deepestL }) =>
      `Mit L* ${n(L, 1)} ist sie wieder heller als das Tiefste, L* ${n(deepestL, 1)}: Mehr Licht nimmt Tiefe weg.`,
    'step-pale': ({ depth, least }) =>
      `Hat ${n(depth, 0)} % der erreichbaren Tiefe, weniger als ${own(least)} %.`,
    'step-building': ({ depth, short, deepestL }) =>
      `Hat ${n(depth, 0)} % der erreichbaren Tiefe; zum Tiefsten, L* ${n(deepestL, 1)}, fehlen ${n(short, 1)} L*.`,
    'step-over': ({ fullSeconds, stops }) =>
      `Volle Tiefe ist schon bei ${t(fullSeconds)} erreicht, ${n(stops, 1)} Blenden früher: Mehr Licht öffnet nur noch die geschützten Flächen und die Ränder.`,
    'step-deepest': ({ within: limit, deepestL }) =>
      `Höchstens ${own(limit)} L* heller als das erreichbare Tiefste, L* ${n(deepestL, 1)}.`,

    'bed-light-unknown': ({ reason }) =>
      `Was das Tischlicht mit diesem Foto gemacht hat, ist nicht bekannt, und es sieht genauso aus wie eine ungleiche Lampe. ${within(reason)} Fotografiere den Bogen so, dass ringsum eine Handbreit einfarbiger Tisch zu sehen ist, oder mit einer Karte auf jeder Seite.`,

    'plan-too-coarse': ({ step, gap, known, scale }) =>
      `Die Stufen ${step} und ${step + 1} liegen ${n(gap, 2)} Blenden auseinander, aber ${known ? 'dieser Farbstoff' : 'ein gewöhnlicher Farbstoff (deiner ist noch nicht bekannt)'} geht in ${n(scale, 1)} Blenden von 10 auf 90 % Tiefe: Dort lägen weniger als drei Stufen. Lege sie höchstens ${n(scale / 3, 1)} Blenden auseinander.`,
    'plan-too-fine': ({ step, gap, uL, separable }) =>
      `Die Stufen ${step} und ${step + 1} liegen ${n(gap, 2)} Blenden auseinander; bei ±${own(uL)} L* je Ablesung trennt selbst der steilste Teil erst ${n(separable, 2)} Blenden. Lege sie weiter auseinander oder belichte jede zweimal.`,
    'plan-merged': ({ count, timerStep }) =>
      `${count} ${count === 1 ? 'Stufe fiel' : 'Stufen fielen'} auf eine Einstellung der Schaltuhr, die es schon gab, und ${count === 1 ? 'blieb' : 'blieben'} weg: Deine Schaltuhr geht in Schritten von ${own(timerStep)} s. Beginne länger oder häng die Lampe höher.`,
    'plan-timer-coarse': ({ timerStep, step, wanted, set, stops }) =>
      `Die Schaltuhr geht in Schritten von ${own(timerStep)} s und verschiebt Stufe ${step} von ${n(wanted, 1)} s auf ${own(set)} s (${n(stops, 2)} Blenden). Der Plan nennt die Zeiten, wie sie eingestellt werden; eine längere Reihe wäre treuer.`,
    'plan-no-base': () =>
      'Ohne unbelichtete, gewaschene Stufe fehlt der Tiefe der Anfang. Lass eine immer abgedeckt.',
    'plan-few-steps': ({ count }) =>
      `${count} belichtete Stufen geben nur eine vorsichtige Antwort: Die Biegung der Kurve muss angenommen werden. Vier oder mehr zeigen sie.`,
    'plan-narrow': ({ range, scale }) =>
      `Von der kürzesten zur längsten Stufe sind es ${n(range, 2)} Blenden; ein Farbstoff, der in ${n(scale, 1)} Blenden von 10 auf 90 % Tiefe geht, zeigt so vielleicht nicht beide Enden. Füge Stufen hinzu.`,
    'plan-moves-close': ({ gap, hands }) =>
      `Zwei Bewegungen liegen nur ${t(gap)} auseinander; Hände brauchen etwa ${hands} s. Beginne die Reihe länger, häng die Lampe höher oder belichte Reststücke nacheinander.`,
    'plan-sun-changes': ({ minutes }) =>
      `Der Streifen dauert ${minutes} min, in denen sich die Sonne selbst ändert. Belichte um Mittag, warte auf klareren Himmel oder lass die längste Stufe weg.`,
    'plan-other-light': ({ madeFor, light }) =>
      `Die Zeit des Herstellers gilt für ${LIGHT[madeFor]}, du belichtest mit: ${LIGHT[light]}. Der Faktor zwischen zwei Lichtern gilt nur für einen Farbstoff und ist nicht bekannt. Bleibt der Streifen leer, prüfe zuerst die Lichtquelle.`,
    'plan-sky-uncertain': ({ low, high }) =>
      `Unter so einem Himmel kann die Zeit das ${n(low, 1)}- bis ${n(high, 1)}-Fache der des Herstellers sein; der Streifen ist darum weit angelegt.`,
    'plan-beyond-curve': ({ onCurve, longest, around }) =>
      `Die Kurve legt das Ziel ${onCurve === null ? '' : `auf ${t(onCurve)}, `}mehr als eine Blende hinter ihre längste Stufe von ${t(longest)}. Der Streifen ist um ${t(around)} geplant; lies ihn, bevor du weitergehst.`,
    'plan-target-deeper': ({ percent: depth, targetL, deepestL, range }) =>
      `${
        depth === null
          ? `L* ${n(targetL, 1)} ist tiefer, als dieser Farbstoff auf diesem Tuch kommt: Sein Tiefstes ist L* ${n(deepestL, 1)}${range === null ? '' : ` ± ${n(range, 1)}`}. Wähle ein helleres Ziel oder ein stärkeres Bad.`
          : `Die Kurve nähert sich ${own(depth)} % Tiefe (L* ${n(targetL, 1)}), kommt aber nie ganz an: Volle Tiefe liegt höchstens 1 L* darüber.`
      } Der Streifen ist stattdessen um volle Tiefe geplant.`,
    'plan-one-setting': ({ timerStep }) =>
      `Bei Schritten der Schaltuhr von ${own(timerStep)} s fallen alle Stufen auf dieselbe Einstellung. Beginne länger oder nimm eine feinere Schaltuhr.`,
    'plan-one-step': () =>
      'Eine belichtete Stufe ergibt keine Kurve. Plane mindestens zwei; sechs oder sieben geben einen guten ersten Streifen.',
    'plan-twice': ({ seconds }) => `In der Liste steht ${t(seconds)} zweimal. Nenne jede Zeit einmal.`,
    'plan-too-long': () =>
      'Die längste Stufe bräuchte mehr als 24 h. Beginne kürzer, plane weniger Stufen oder lege sie enger.',
  };
  return phrases;
};
