import { germanAdvice } from '../../analysis/words/germanAdvice.ts';
import { germanCautions } from '../../analysis/words/germanCautions.ts';
import { germanPatchName } from '../../analysis/words/germanNames.ts';
import type { Words } from './shape.ts';

/** All words of the page in German. */
export const german: Words = {
  language: 'de',
  title: 'Tonestep',
  purpose: 'Vom Foto deines Teststreifens zur Belichtungszeit',

  frame: {
    skip: 'Zum Inhalt springen',
    label: 'Teile von Tonestep',
    plan: 'Planen',
    run: 'Belichten',
    read: 'Lesen',
    answer: 'Antwort',
    book: 'Buch',
    settings: 'Einstellungen',
    strips: 'Gezeigter Streifen',
    ownStrips: 'Deine Streifen',
    demos: 'Beispielstreifen',
    yourStrip: 'Dein Streifen',
    demo: 'Beispiel',
    toDark: 'Dunkel',
    toLight: 'Hell',
    themeLabel: 'Seite umstellen auf',
    opening: 'Der Beispielstreifen wird gelesen …',
    loading: 'Wird geöffnet …',
    dropHere: 'Loslassen, um dieses Foto zu lesen',
    tryAgain: 'Noch einmal versuchen',
    running: 'Die Uhr läuft',
    backToClock: 'Zur Uhr',
    undo: 'Zurücknehmen',
    inEnglish: 'Genaueres, auf Englisch',
  },

  answer: {
    heading: 'Die Antwort',
    expose: 'Belichten für',
    goalFull: 'so tief es geht',
    goalL: (L) => `L* ${L}`,
    goalDepth: (percent) => `${percent} % Tiefe`,
    goalSwatch: 'die Farbe des Musters',
    interval: (low, high) => `${low} bis ${high}`,
    intervalNote: 'in 9 von 10 Fällen',
    openInterval: (low) => `${low} oder länger`,
    noTime: 'Keine Zeit',
    status: {
      inside: '',
      beyond: 'Außerhalb des Streifens',
      unattainable: 'So weit kommt dieser Farbstoff nicht',
      'too-few-steps': 'Zu wenige Stufen',
      'count-differs': 'Andere Zahl von Stufen als Zeiten',
    },
    blank: 'Leerer Streifen',
    countDiffers: 'Andere Zahl von Stufen',
    swatch: 'Die Farbe, die diese Zeit ergibt',
    doubt: 'Prüfe zuerst die Markierungen im Foto: Sie wurden nicht sicher gefunden.',
    scrap:
      'Ein Ausgangspunkt, gemessen an einem einzigen Foto: Probiere ihn vor einem teuren Stück an einem Rest aus.',
  },

  target: {
    heading: 'Wie tief?',
    full: 'So tief es geht',
    depth: (percent) => `${percent} %`,
    depthLabel: (percent) => `${percent} % Tiefe`,
    slider: 'Gewünschte Tiefe',
    sliderText: (L, depth, time) => `L* ${L}, ${depth} % Tiefe, ${time}`,
    sliderNoTime: 'keine Zeit',
    lighter: 'Heller',
    deeper: 'Tiefer',
    aimHere: (time) => `Darauf zielen: so tief wie die Stufe ${time}`,
    aimShort: 'Darauf zielen',
  },

  stage: {
    heading: 'Streifen und Kurve',
    plotLabel: (dye, cloth) => `L* über der Belichtungszeit: ${dye} auf ${cloth}`,
    lightness: 'L*',
    base: 'Grund',
    unexposed: 'unbelichtet',
    barsNote:
      'Striche: 90 % jeder Ablesung. Schraffiert: 90-%-Bereich der Antwort. Gestrichelt: jenseits der längsten Stufe.',
    minutes: 'min:s',
    stops: 'Blenden',
    saveDrawing: 'Als Zeichnung sichern (SVG)',
    savePicture: 'Als Bild sichern (PNG)',
    saveReading: 'Lesung sichern (JSON)',
    model: {
      'build-up': 'Kurve des Farbaufbaus',
      logistic: 'Logistische Kurve',
      monotone: 'Glatte Kurve durch die Stufen',
    },
  },

  steps: {
    heading: 'Stufen',
    time: 'Zeit',
    lightness: 'L*',
    colour: 'Farbe',
    verdict: 'Urteil',
    aim: 'Ziel',
    plusMinus: (u) => `± ${u}`,
    uncertaintyNote: '± eine Standardunsicherheit',
    detail: (chroma, deltaE, density) =>
      deltaE === null
        ? `C* ${chroma} · Dichte ${density}`
        : `ΔE00 zum Grund ${deltaE} · C* ${chroma} · Dichte ${density}`,
    legend: 'Was die Zeichen bedeuten',
    legendOf: {
      'washed-out': 'Leere Küpe: nicht vom Grund zu unterscheiden oder unter 10 % Tiefe.',
      building: 'Halb voll: Mehr Licht bringt noch mehr Tiefe.',
      'full-depth': 'Voll: höchstens 1 L* heller als das Tiefste.',
      overexposed: 'Läuft über: seit mehr als einer halben Blende in voller Tiefe oder wieder blasser.',
    },
    verdictWord: {
      'washed-out': 'ausgewaschen',
      building: 'im Aufbau',
      'full-depth': 'volle Tiefe',
      overexposed: 'überbelichtet',
    },
  },

  photo: {
    heading: 'Was gefunden wurde',
    alt: 'Der fotografierte Streifen; die gelesenen Flächen sind eingezeichnet',
    correct: 'Von Hand berichtigen',
    placeByHand: 'Markierungen von Hand setzen',
    stop: 'Lassen, wie es war',
    readAgain: 'Mit diesen Markierungen neu lesen',
    choose: 'Bewegen',
    unsure: 'Es ist nicht sicher, wo Karte oder Streifen liegen.',
    tapOn: {
      card: 'Tippe auf die Karte',
      strip: 'Tippe auf den Streifen',
      both: 'Auf Karte und Streifen tippen',
    },
    tapKeys: 'Mit Tasten: Bewege das Kreuz mit den Pfeilen, setze es mit der Eingabetaste.',
    wholeStrip: 'Ganzer Streifen',
    wholeCard: 'Ganze Karte',
    step: (number, time) => `Stufe ${number}, ${time}`,
    patch: (name) => `Karte: ${germanPatchName(name)}`,
    corner: (number, of) => `Ecke ${number} von ${of}`,
    middle: (of) => `Alles von ${of}`,
    stepLine: (first, second) => `Linie zwischen Stufe ${first} und Stufe ${second}`,
    turnStrip: 'Stufen umdrehen',
    turnCard: 'Karte umdrehen',
    help: 'Ziehe die runden Griffe; auch die Pfeiltasten bewegen sie. Nähte und Schattenränder bleiben draußen. Die Lesung folgt.',
    crossed: 'Diese Ecken überkreuzen sich: Ziehe sie vor dem Lesen auseinander.',
    sizes: (width, height, format) => `${width} × ${height} px, ${format}`,
  },

  next: {
    heading: 'Nächster Streifen',
    use: 'Diese Zeiten nehmen',
    plan: 'Diesen Streifen planen',
    expected: (stops) => `Für sich allein sollte er einen Bereich von ${stops} Blenden lassen.`,
    together: (stops) => `Zusammen mit diesem Streifen gelesen: ${stops} Blenden.`,
    times: 'Zeiten des nächsten Streifens',
  },

  notes: {
    heading: 'Was du über diese Lesung wissen solltest',
    none: 'Nichts spricht gegen diese Lesung.',
    illumination: {
      surround: 'Tischlicht mit Hilfe der Umgebung ausgeglichen',
      'base-cloth': 'Tischlicht entlang des Grundtuchs ausgeglichen',
      'card-ends': 'Tischlicht zwischen den Kartenfeldern ausgeglichen',
      'within-patches': 'Tischlicht innerhalb der Kartenfelder ausgeglichen',
    },
    fallOff: (percent) => `${percent} % Abfall über Karte und Streifen`,
    tone: (patches, exponent, flare) =>
      `Kameraton aus ${patches} ${patches === 1 ? 'Kartenfeld' : 'Kartenfeldern'}: Steigung ${exponent}, Streulicht ${flare} %`,
    leaveOneOut: (L) => `Ein ausgelassenes Feld wird auf ${L} L* getroffen`,
    relative: 'Nur ein Feld: Unterschiede in diesem Foto gelten, das L* selbst ist grob.',
    refusedPatch: (name) => `Kartenfeld ${germanPatchName(name)} nicht verwendet`,
    photos: (count) => `Aus ${count} Fotos gelesen`,
    agree: (measured, expected) =>
      `Sie stimmen auf ${measured} L* überein (Standardabweichung); zu erwarten waren ${expected} L*.`,
    turned: 'Eines liegt gegen ein anderes um 180° gedreht: Ein Gefälle des Lichts hebt sich auf.',
    curve: 'Kurve',
    method: (version) => `Verfahren ${version}`,
  },

  form: {
    heading: 'Einen Streifen lesen',
    addFurther: 'Noch ein Foto dieses Streifens',
    further: (number, name) => `Foto ${number}: ${name}`,
    removeFurther: (number) => `Foto ${number} weglassen`,
    furtherNote: 'Am besten Streifen und Karte um 180° gedreht: Dann hebt sich ein Gefälle des Lichts auf.',
    planFilled: 'Zeiten und Namen kommen vom Plan auf dem Blatt.',
    planNames: 'Die Namen kommen vom Plan auf dem Blatt; die Zeiten sind die deiner Belichtung.',
    planUnknown: 'Der Code des Blatts nennt einen Plan, der hier nicht aufbewahrt ist. Tippe die Zeiten ein.',
    fromRun: 'Die Zeiten sind die deiner letzten Belichtung, wie sie wirklich waren.',
    photo: 'Foto',
    choose: 'Foto wählen',
    take: 'Foto aufnehmen',
    drop: 'oder irgendwo auf dieser Seite ablegen',
    replace: 'Anderes Foto',
    photoTips:
      'Trocken, glatt, Karte neben dem Streifen im selben Licht, kein Blitz, keine Sonnenflecken, Telefon gerade gehalten. JPEG, HEIC, PNG, WebP, TIFF oder AVIF.',
    opening: 'Das Foto wird geöffnet …',
    ready: (name, size) => `${name} · ${size}`,
    preview: 'Das gewählte Foto',
    card: 'Karte im Foto',
    cardName: {
      'grey-18': 'Ein graues Feld, 18 %',
      'white-grey-black': 'Weiß, Grau und Schwarz',
      'grey-scale': 'Graukeil, 10 Felder',
      'chart-24': 'Tafel mit 24 Farben',
      own: 'Eigene Felder',
    },
    cardHint: {
      'grey-18': 'Grob: L* gilt nur innerhalb dieses Fotos.',
      'white-grey-black': 'Reflexion 90, 18 und 3,5 %.',
      'grey-scale': 'Dichte 0,05 bis 1,85 in Stufen von 0,20.',
      'chart-24': 'Ihre graue Reihe, Felder 19 bis 24, wird verwendet.',
      own: 'Neutrale Felder mit bekanntem Y (0 bis 1), L* oder bekannter Dichte.',
    },
    patchName: 'Name',
    patchMeasure: 'Angegeben als',
    patchValue: 'Wert',
    measures: { Y: 'Y', L: 'L*', density: 'Dichte' },
    patchRow: (number) => `Feld ${number}`,
    addPatch: 'Feld hinzufügen',
    removePatch: (number) => `Feld ${number} entfernen`,
    patchProblem: {
      name: 'Gib jedem Feld einen eigenen Namen.',
      Y: 'Y ist eine Zahl von 0,002 bis 1: 18 % sind 0,18.',
      L: 'L* ist eine Zahl von 2 bis 100.',
      density: 'Dichte ist eine Zahl von 0 bis 2,7.',
      none: 'Füge mindestens ein Feld hinzu.',
    },
    times: 'Belichtungszeiten',
    timesLabel: 'Alle Stufen, unbelichteter Grund als 0',
    timesHint: 'Als 0:45, 90 s, 1,5 min oder +1/2 Blende auf die vorige; durch Semikolon getrennt.',
    timesUnderstood: (count) => (count === 1 ? 'Verstanden als 1 Stufe:' : `Verstanden als ${count} Stufen:`),
    timesProblem: (text) => `„${text}“ ist keine Zeit. Schreibe 1:30, 90 s oder 1,5 min.`,
    timesNone: 'Schreibe die Zeit jeder Stufe.',
    timesMany: 'Mehr als 60 Stufen: So viele hat kein Streifen.',
    series: 'Eine Reihe einsetzen',
    seriesFirst: 'Erste Zeit',
    seriesCount: 'Stufen',
    seriesSpacing: 'Jede Stufe',
    spacing: {
      'whole-stop': 'eine Blende mehr (× 2)',
      'half-stop': 'eine halbe Blende mehr (× 1,41)',
      'third-stop': 'ein Drittel mehr (× 1,26)',
      'equal-times': 'noch einmal dieselbe Zeit',
    },
    seriesBase: 'mit unbelichtetem Grund',
    seriesFill: 'Einsetzen',
    seriesProblem: 'Die erste Zeit muss über null liegen.',
    names: 'Namen',
    dye: 'Farbstoff',
    cloth: 'Tuch',
    light: 'Licht',
    read: 'Den Streifen lesen',
    reading: 'Der Streifen wird gelesen',
    readingFor: (seconds) => `${seconds} s`,
    cancel: 'Anhalten',
    noPhoto: 'Wähle zuerst ein Foto oder nimm eines auf.',
    marksForget: 'Doch von selbst finden lassen',
  },

  problem: {
    heading: 'Das hat nicht geklappt',
    kept: 'Alles, was du eingegeben hast, ist noch da.',
    details: 'Genauer',
  },

  stops: (amount, one) => `${amount} ${one ? 'Blende' : 'Blenden'}`,

  sentences: {
    ...germanAdvice,
    base: (L) => `Das ist der unbelichtete Grund, L* ${L}: Mit ihm werden die Stufen verglichen.`,
    notTold: (deltaE, least) =>
      `Unterscheidet sich um ΔE00 ${deltaE} vom Grund, weniger als ${least}: nicht zu erkennen.`,
    withinUncertainty: (deltaE, u) =>
      `Unterscheidet sich um ΔE00 ${deltaE} vom Grund, weniger als das Doppelte der Unsicherheit von ${u}.`,
    noBase: (L) =>
      `Ihr L* ist ${L}; ohne Grund und mehr Stufen sagt nichts, wie nah das an voller Tiefe ist.`,
    noCurve: (deltaE) =>
      `Unterscheidet sich um ΔE00 ${deltaE} vom Grund; zu wenige Stufen, um zu sagen, wie nah das an voller Tiefe ist.`,
    reversed: (L, deepest) =>
      `Mit L* ${L} ist sie wieder heller als das Tiefste, L* ${deepest}: Mehr Licht nimmt Tiefe weg.`,
    pale: (depth) => `Hat ${depth} % der erreichbaren Tiefe, weniger als 10 %.`,
    building: (depth, short, deepest) =>
      `Hat ${depth} % der erreichbaren Tiefe; zum Tiefsten, L* ${deepest}, fehlen ${short} L*.`,
    over: (time, stops) =>
      `Volle Tiefe ist schon bei ${time} erreicht, ${stops} Blenden früher: Mehr Licht öffnet nur noch die geschützten Flächen und die Ränder.`,
    deepest: (deepest) => `Höchstens 1 L* heller als das Tiefste, L* ${deepest}.`,
    nextStrip: (count) => `Ein unbelichtetes Stück und ${count} Stufen.`,
  },

  plan: {
    heading: 'Einen Streifen planen',
    know: 'Was weißt du schon?',
    start: {
      nothing: 'Noch nichts',
      maker: 'Eine Zeit vom Hersteller',
      around: 'Eine eigene Schätzung',
      curve: 'Eine frühere Lesung',
      times: 'Eine eigene Liste von Zeiten',
    },
    startHint: {
      nothing: 'Ein weiter Streifen findet die Kurve.',
      maker: 'Die Zeit auf der Flasche oder dem Beipackzettel.',
      around: 'Stufen nach beiden Seiten.',
      curve: 'Der Streifen, der über die gewünschte Tiefe am meisten sagt.',
      times: 'Genau diese.',
    },
    first: 'Kürzeste Zeit',
    makerTime: 'Zeit des Herstellers',
    madeFor: 'Gedacht für',
    madeForSky: 'bei diesem Himmel',
    sky: 'Dein Himmel heute',
    guess: 'Deine Schätzung',
    apart: 'Abstand der Stufen (Blenden)',
    count: 'Belichtete Stufen',
    usual: 'wie üblich',
    times: 'Zeiten',
    reading: 'Lesung',
    depth: 'Gewünschte Tiefe',
    depthFull: 'so tief es geht',
    noReading:
      'Es gibt noch keine Lesung mit Kurve. Lies zuerst einen Streifen oder wähle einen anderen Anfang.',
    light: 'Licht',
    lights: {
      tubes: 'Ultraviolettröhren',
      led: 'Ultraviolett-LEDs',
      sun: 'die Sonne',
      other: 'anderes Licht',
    },
    skies: {
      clear: 'klar',
      scattered: 'einzelne Wolken',
      broken: 'viele Wolken',
      overcast: 'bedeckt',
    },
    layout: 'Wie die Stufen ihr Licht bekommen',
    layouts: {
      covering: 'Ein Streifen, die Abdeckung rückt darüber vor',
      uncovering: 'Ein Streifen, die Abdeckung weicht zurück',
      together: 'Reststücke unter einem Licht, nacheinander herausgenommen',
      'in-turn': 'Reststücke eins nach dem anderen',
    },
    lampOff: 'Das Licht geht für jede Bewegung aus',
    base: 'mit unbelichtetem Grund',
    timerStep: 'Kleinster Schritt der Schaltuhr (s)',
    more: 'Schaltuhr und Grund',
    names: 'Was belichtet wird',
    name: 'Name auf den Zetteln',
    made: 'Der Streifen',
    problem: 'So lässt es sich noch nicht planen',
    toFill: 'Trage ein, was du weißt: Dann erscheint hier der Streifen.',
    noTime: (text) => `„${text}“ ist keine Zeit. Schreibe 1:30, 90 s oder 1,5 min.`,
    noStops: (text) => `„${text}“ ist keine Zahl von Blenden. Schreibe 1, 1/2 oder 0,5.`,
    noTimerStep: 'Der Schritt der Schaltuhr ist eine Zahl von 0,01 bis 600 Sekunden.',
    series: 'Stufen',
    step: 'Stufe',
    time: 'Zeit',
    above: 'Über der kürzesten',
    label: 'Daneben schreiben',
    moves: 'Bewegungen',
    clock: 'Uhr',
    toDo: 'Was zu tun ist',
    evenly: (count, stops, first, last) =>
      `${count} belichtete Stufen, je ${stops} auseinander, von ${first} bis ${last}.`,
    unevenly: (count, first, last) => `${count} belichtete Stufen von ${first} bis ${last}.`,
    lampTime: (clock) => `Das Licht brennt insgesamt ${clock}.`,
    places: (order) => `Reihenfolge auf dem Belichtungsbett: ${order}.`,
    warnings: 'Bedenke',
    notes: 'Gut zu wissen',
    toRun: 'Zur Uhr',
    toRunWhileRunning:
      'Gerade wird ein Streifen belichtet. Beende ihn, bevor ein anderer an seine Stelle tritt.',
    toRead: 'Mit diesen Zeiten lesen',
    print: 'Diesen Plan drucken',
    sheet: 'Messblatt (PDF)',
    sheetA4: 'Messblatt A4 (PDF)',
    sheetLetter: 'Messblatt Letter (PDF)',
    sheetNote: 'Lege Streifen und Karte darauf: Dann findet sich im Foto alles von selbst.',
  },

  moves: {
    onCovering: (base) =>
      base ? 'Grund abgedeckt, alle Stufen offen: Licht an.' : 'Alle Stufen offen: Licht an.',
    onUncovering: (step) => `Nur Stufe ${step} offen, der Rest abgedeckt: Licht an.`,
    onTogether: (base) =>
      base
        ? 'Alle Reststücke unters Licht, der Grund bleibt draußen: Licht an.'
        : 'Alle Reststücke unters Licht: Licht an.',
    onInTurn: 'Reststück 1 unters Licht: Licht an.',
    cover: (step) => `Schiebe die Abdeckung über Stufe ${step}.`,
    uncover: (step) => `Zieh die Abdeckung zurück, bis Stufe ${step} offen liegt.`,
    takeOut: (step) => `Nimm Reststück ${step} heraus und lege es ins Dunkle.`,
    change: (step, time) => `Wechsle zu Reststück ${step}, gleiche Stelle: noch ${time}.`,
    offCovering: (step) => `Licht aus: Stufe ${step} ist fertig.`,
    offUncovering: (base) =>
      base
        ? 'Licht aus: Alle Stufen sind fertig, der Grund blieb abgedeckt.'
        : 'Licht aus: Alle Stufen sind fertig.',
    offScrap: (step) => `Licht aus: Reststück ${step} ist fertig.`,
  },

  run: {
    heading: 'Belichten',
    empty: 'Noch ist kein Streifen geplant.',
    emptyNext: 'Plane einen: Dann sagt die Uhr, wann die Abdeckung rückt.',
    toPlan: 'Einen Streifen planen',
    phase: {
      ready: 'Bereit',
      wait: 'Warten',
      soon: 'Gleich',
      now: 'Jetzt',
      dark: 'Licht ist aus',
      missed: 'Eine Bewegung wurde verpasst',
      done: 'Fertig',
    },
    start: 'Licht an: los',
    startNote: 'Tippe in dem Augenblick, in dem das Licht angeht.',
    until: 'bis dahin',
    untilEnd: 'bis das Licht ausgeht',
    next: (text) => `Dann: ${text}`,
    lampClock: (now, of) => `Licht bisher ${now} von ${of}`,
    litFor: (clock) => `Licht bisher ${clock}`,
    pause: 'Licht ging aus',
    resume: 'Licht ist wieder an',
    made: 'Erledigt',
    madeEarly: 'Schon bewegt',
    madeLate: 'Gerade erst bewegt, nicht pünktlich',
    offNow: 'Licht geht jetzt aus',
    offOnTime: 'Es ging pünktlich aus',
    onTime: 'Ich habe pünktlich bewegt',
    movedNow: 'Gerade erst bewegt',
    missedWhat: (text, due, late) =>
      `Das war bei ${due} fällig, vor ${late}, und konnte nicht angesagt werden: ${text}`,
    missedNext:
      'Falls noch nicht geschehen, tu es jetzt und tippe. Die Zeiten unten werden, was sie wirklich waren.',
    undo: (what) => `„${what}“ zurücknehmen`,
    again: 'Von vorn',
    startedOver: 'Die Uhr steht wieder am Anfang.',
    restored: 'Die vorige Belichtung ist wieder da.',
    bringBack: 'Vorige Belichtung zurückholen',
    handsFree: 'Freie Hände: Eine Bewegung gilt als getan, sobald sie angesagt ist',
    handsFreeNote: 'Ohne das tippst du bei jeder Bewegung auf „Erledigt“.',
    sound: 'Ton',
    soundOn: 'Ton ist an',
    soundOff: 'Ton ist aus',
    soundTry: 'Ton ausprobieren',
    soundAgain: 'Ton wieder einschalten',
    soundLost: 'Der Browser hat den Ton abgestellt, als die Seite neu geöffnet wurde.',
    soundNote: 'Drei kurze Töne, dann ein langer bei der Bewegung; zwei lange, wenn das Licht ausgeht.',
    dim: 'Gedämpft',
    bright: 'Hell',
    dimNote:
      'Gedämpft zeigt Rot auf Schwarz, für den verdunkelten Raum. Prüfe dein Tuch darunter: Ein Bildschirm ist keine Dunkelkammerlampe.',
    awake: 'Der Bildschirm bleibt an.',
    notAwake:
      'Dieser Browser kann den Bildschirm hier nicht anlassen. Stelle die Bildschirmzeit des Geräts auf die längste; die Uhr läuft auf jeden Fall weiter und sagt, was sie nicht ansagen konnte.',
    warmUp: 'Einbrennen',
    warmUpStart: 'Einbrennen ab jetzt',
    warmUpStop: 'Einbrennen beenden',
    warmUpFor: (clock) => `Röhren brennen seit ${clock}. Sie wollen 5 bis 10 min, bei abgedecktem Tuch.`,
    warmUpDone: 'Warm genug: 10 min sind um.',
    strip: 'Der Streifen jetzt',
    stripText: (open, covered) => `Im Licht: ${open}. Dunkel: ${covered}.`,
    none: 'keine',
    moves: 'Bewegungen',
    state: {
      made: 'getan',
      late: (stops) => `getan, ${stops} zu spät`,
      early: (stops) => `getan, ${stops} zu früh`,
      missed: 'verpasst',
      coming: '',
      now: 'jetzt',
    },
    exposures: 'Was jede Stufe wirklich bekam',
    planned: 'Geplant',
    real: 'Wirklich',
    difference: 'Unterschied',
    soFar: 'bisher',
    asPlanned: 'wie geplant',
    done: 'Alle Stufen sind belichtet.',
    doneNote: 'Wasche und trockne alle Stufen und den Grund zusammen; fotografiere sie dann neben der Karte.',
    toRead: 'Mit diesen Zeiten fotografieren',
    offline: 'Die Uhr braucht kein Netz, sobald diese Seite offen ist.',
    step: (step) => `Stufe ${step}`,
    scrap: (step) => `Reststück ${step}`,
    base: 'Grund',
  },

  book: {
    heading: 'Buch',
    parts: 'Teile des Buchs',
    strips: 'Streifen',
    today: 'Welche Zeit heute?',
    compare: 'Vergleichen',
    drift: 'Abdriften',
    evenness: 'Gleichmäßigkeit',
    archive: 'Ein und aus',
    onDevice: 'In diesem Browser',
    onDeviceNote: (most) =>
      `Streifen, die du hier liest, bleiben in diesem Browser, die neuesten ${most}, samt Foto.`,
    empty: 'Noch nichts gelesen.',
    emptyNext:
      'Plane einen Streifen, belichte ihn, fotografiere ihn neben einer Graukarte: Dann liegt seine Lesung hier.',
    kept: 'Eingetragen',
    keptEmpty: 'Im Buch steht noch nichts.',
    keptEmptyNext:
      'Öffne einen gelesenen Streifen und trage ihn ein: Dann antwortet das Buch, welche Zeit heute gilt.',
    nothingFound: 'Kein Streifen im Buch passt dazu.',
    loading: 'Das Buch wird aufgeschlagen …',
    open: 'Öffnen',
    putAway: 'Weglegen',
    putAwayDone: (name) => `${name} ist weggelegt.`,
    bringBack: 'Zurückholen',
    showAway: 'Auch Weggelegtes zeigen',
    isAway: 'weggelegt',
    readAt: (date) => `gelesen ${date}`,
    exposedAt: (date) => `belichtet ${date}`,
    noStorage:
      'Dieser Browser behält hier nichts: So ist es in privaten Fenstern und bei voller Platte. Sichere Lesungen als Datei.',
    any: 'beliebig',
    search: 'Wörter in Namen und Bemerkungen',
    find: 'Suchen',
    count: (shown, total) => `${shown} von ${total}`,
    more: 'Mehr zeigen',
    choose: (name) => `Zum Vergleichen wählen: ${name}`,
    compareChosen: (count) => `Diese ${count} vergleichen`,
    compareHint: 'Kreuze zwei oder mehr Streifen an, um sie zu vergleichen.',
    purposes: { calibration: 'Eichung', control: 'Kontrollrest', print: 'Druck' },
  },

  keep: {
    heading: 'Ins Buch eintragen',
    purpose: 'Was es ist',
    why: 'Das Buch antwortet später, welche Zeit gilt und wie weit ihr zu trauen ist.',
    lightKind: 'Das Licht ist',
    lightKinds: { lamps: 'Lampen', sun: 'die Sonne' },
    lampHours: 'Stundenzähler der Lampen (h)',
    sky: 'Himmel',
    notNoted: 'nicht notiert',
    batch: 'Ansatz des Sensibilisators',
    noBatch: 'keiner notiert',
    newBatch: 'ein neuer Ansatz',
    batchName: 'Name des Ansatzes',
    mixedOn: 'Gemischt am',
    remark: 'Bemerkung',
    confirm: 'Ich habe die Markierungen im Foto angesehen: Sie stimmen.',
    confirmWhy: 'Sie wurden nicht sicher gefunden. Eine falsche Eichung verdürbe spätere Zeiten.',
    keep: 'Ins Buch eintragen',
    keeping: 'Wird eingetragen …',
    missing: 'Nenne Farbstoff, Tuch und Licht: Nur für sie gilt eine Zeit.',
    hoursWrong: 'Der Stundenzähler ist eine Zahl von Stunden, 0 oder mehr.',
    kept: 'Steht im Buch.',
    keptOpen: 'Im Buch ansehen',
    setup: 'Was sonst wie immer ist (Glas, Wasser, Telefon)',
    controlSays: 'Was der Kontrollrest sagt',
    inBook: 'Im Buch',
    notes: 'Notizen',
    note: 'Neue Notiz',
    addNote: 'Aufschreiben',
    noNotes: 'Noch keine Notiz: was ungewöhnlich war, wie das Stück geworden ist.',
    papers: 'Papier und Tabellen',
    report: 'Bericht (PDF)',
    steps: 'Stufen (CSV)',
    curve: 'Kurve (CSV)',
    cgats: 'Messwerte (CGATS)',
    superseded: 'Eine spätere Lesung dieses Fotos gilt statt dieser.',
    openLater: 'Die spätere öffnen',
    isAway: 'Diese Lesung ist weggelegt.',
  },

  today: {
    heading: 'Welche Zeit heute?',
    ask: 'Welche Zeit?',
    noCalibration: 'Im Buch steht nichts zu diesem Farbstoff, Tuch und Licht.',
    noCalibrationNext: 'Trage zuerst einen Teststreifen damit ein.',
    timerStep: 'Schritt der Schaltuhr',
    lampHours: 'Stundenzähler jetzt (h)',
    answer: 'Heute',
    gives: (L, depth) => `Sollte L* ${L} ergeben, ${depth} % Tiefe.`,
    basis: (date, days) => `Vom Streifen, belichtet ${date}, vor ${days} Tagen.`,
    basisToday: (date) => `Vom Streifen, belichtet heute, ${date}.`,
    ofHowMany: (count) => (count === 1 ? 'Der einzige im Buch.' : `Der neueste von ${count} im Buch.`),
    openBasis: 'Diesen Streifen öffnen',
    trusted: 'Nichts spricht gegen diese Zeit.',
    doubted: 'Probiere sie zuerst an einem Rest aus:',
    good: 'Gut zu wissen:',
    moved: {
      nothing: 'Genommen, wie sie gemessen wurde.',
      control: 'Nach dem letzten Kontrollrest verschoben.',
      controls: 'Nach den Kontrollresten verschoben.',
      sky: 'Für den Himmel verschoben.',
    },
    shift: (stops) => `Licht gegen damals: ${stops}.`,
    printed: 'Ich habe mit dieser Zeit gedruckt',
    printedDone: 'Der Druck ist notiert. Miss ihn, wenn er trocken ist.',
    prints: 'Gemachte Drucke',
    noPrints: 'Noch kein Druck notiert. Was herauskommt, wird mit dem Versprochenen verglichen.',
    notePrint: 'Einen Druck nach seiner Zeit notieren',
    noteWhy:
      'Es braucht kein Foto: die Zeit, die er bekam, und wie er herauskam. Das lässt sich auch später sagen, wenn er trocken ist.',
    usedTime: 'Seine Zeit',
    usedWrong: 'Sag, wie lange er belichtet wurde, etwa 3:20 oder 90 s.',
    when: 'Gedruckt am',
    whenWrong: 'Gib einen Tag und eine Zeit an, die schon waren.',
    promised: (L, depth) => `Versprochen für diese Zeit: L* ${L}, ${depth} % Tiefe.`,
    promisedShort: (L, depth) => `versprochen L* ${L}, ${depth} %`,
    nothingPromised: 'nichts war versprochen',
    how: 'Wie er herauskam',
    notJudged: 'noch nicht beurteilt',
    hows: {
      paler: 'heller als versprochen',
      right: 'wie versprochen',
      deeper: 'tiefer als versprochen',
      measured: 'gemessenes L*',
    },
    measuredL: 'Gemessenes L*',
    measuredU: '± (eine Standardunsicherheit)',
    measuredUWrong: 'Eine Zahl über 0 und bis 50; oder lass es leer.',
    printName: 'Was er ist',
    keepPrint: 'Druck eintragen',
    printKept: 'Der Druck ist eingetragen.',
    outcomeNoted: 'Was herauskam, ist notiert.',
    correct: 'Berichtigen',
    sayReached: 'Sagen, wie er herauskam',
    reachedWrong: 'L* ist eine Zahl von 0 bis 100.',
    missedNothing: 'wie versprochen',
    missedBy: {
      paler: (stops) => `wie nach ${stops} weniger Licht als versprochen`,
      deeper: (stops) => `wie nach ${stops} mehr Licht als versprochen`,
    },
    bias: (missed, low, high, biased) =>
      `Gemessene Drucke kommen im Mittel heraus ${missed} (${low} bis ${high} Blenden, 90 %). ${biased ? 'Das ist mehr als Zufall: Mach einen neuen Streifen oder einen Kontrollrest.' : 'Das erklärt der Zufall.'}`,
    noBias: 'Drei gemessene Drucke zeigen, ob die Zeiten nach einer Seite neigen.',
    byEye: (paler, right, deeper) =>
      `Nach Auge: ${paler} heller, ${right} wie versprochen, ${deeper} tiefer.`,
    noLean: 'Das erklärt der Zufall.',
    leans: {
      paler: 'Mehr sind heller, als der Zufall erklärt: Mach einen neuen Streifen oder einen Kontrollrest.',
      deeper: 'Mehr sind tiefer, als der Zufall erklärt: Mach einen neuen Streifen oder einen Kontrollrest.',
    },
    doubt: {
      'lamp-hours': 'Die Lampen haben seither lange gebrannt.',
      'lamp-hours-unknown':
        'Die Stunden der Lampen sind nicht notiert, ihr Nachlassen ist darum nicht bekannt.',
      'lamps-replaced': 'Die Lampen wurden seither ersetzt.',
      'other-batch': 'Ein anderer Ansatz.',
      'batch-unknown': 'Der Ansatz ist nicht notiert.',
      'batch-age': 'Der Ansatz ist anders gealtert als damals.',
      season: 'Eine andere Jahreszeit als damals.',
      sun: 'Die Sonne wiederholt sich nicht.',
      sky: 'Ein anderer Himmel als damals.',
      'other-card': 'Eine andere Karte wurde verwendet.',
      'other-light': 'Das Licht wurde seither geändert.',
      relative: 'Der Streifen wurde gegen eine Karte von nur einer Helligkeit gelesen.',
      'marks-unconfirmed': 'Niemand hat die Markierungen jener Lesung angesehen.',
      old: 'Die Eichung ist alt.',
      'other-method': 'Sie wurde nach einem früheren Verfahren gelesen.',
      wide: 'Der Bereich ist weit.',
      'off-strip': 'Die Zeit liegt außerhalb des Streifens.',
      'control-jump': 'Ein Kontrollrest fiel aus der Reihe.',
      'control-old': 'Der letzte Kontrollrest ist alt.',
      'control-unusable': 'Ein Kontrollrest ließ sich nicht verwenden.',
      'control-warning': 'Die Kontrollreste warnen.',
      'prints-missed': 'Drucke haben das Versprochene verfehlt.',
    },
  },

  compare: {
    heading: 'Farbstoffe vergleichen',
    choose: 'Zu vergleichende Streifen',
    tooFew: 'Es braucht zwei Streifen mit Kurve. Lies noch einen oder trage mehr ins Buch ein.',
    pickTwo:
      'Kreuze zwei oder mehr Streifen an: Kurven, Farben und Zahlen liegen dann hier nebeneinander. Eigene Streifen kommen in die Liste, sobald sie gelesen sind.',
    depth: 'Verglichen bei Tiefe',
    curves: 'Kurven',
    plotLabel: (names) => `L* über der Belichtungszeit: ${names}`,
    sameTime: 'Nebeneinander bei gleicher Belichtung',
    sameDepth: 'Nebeneinander bei gleicher Tiefe',
    ownDepth: 'Tiefe',
    table: 'In Zahlen',
    tableNote: 'Klein: das 90-%-Intervall. Verschieden heißt nur, wo beide Intervalle sich nicht berühren.',
    bands: 'Intervallbänder',
    allBands: 'alle',
    noBands: 'keine',
    bandsNote: 'Schraffiert: 90-%-Intervall jeder Kurve. Balken: 90 % jeder Messung.',
    figures: {
      secondsToDepth: 'Zeit bis zur verglichenen Tiefe',
      secondsTo90: 'Zeit bis 90 % Tiefe',
      contrastLPerStop: 'Kontrast (L* je Blende)',
      exposureScaleStops: 'Belichtungsspielraum (Blenden)',
      deepestL: 'Tiefstes L*',
      deepestChroma: 'C* dort',
      deepestHue: 'Farbton dort (°)',
    },
    verdicts: {
      different: 'verschieden',
      'not-separable': 'nicht zu unterscheiden',
      unknown: 'unbekannt',
    },
    pair: (first, second) => `${first} gegen ${second}`,
    notComparable: 'Diese Streifen lassen sich nicht vergleichen',
    outside: 'außerhalb des Streifens',
  },

  drift: {
    heading: 'Abdriften des Lichts',
    why: 'Ein Kontrollrest wird jedes Mal gleich belichtet. Seine Verschiebung zeigt, ob das Licht nachlässt.',
    empty: 'Noch kein Kontrollrest im Buch.',
    emptyNext:
      'Belichte ab und zu eine oder zwei Stufen desselben Farbstoffs auf demselben Tuch, lies sie und trage sie als Kontrollrest ein.',
    chart: 'Verschiebung jedes Kontrollrests',
    chartLabel: 'Verschiebung jedes Kontrollrests in Blenden, in zeitlicher Folge, mit ihren Grenzen',
    gathering: (count, needed) => `${count} von ${needed} Kontrollresten: Grenzen brauchen mehr.`,
    verdicts: { steady: 'Gleichmäßig', drifting: 'Driftet ab', jump: 'Einer sprang' },
    limits: (lower, upper) => `Grenzen ${lower} bis ${upper} Blenden`,
    timeFactor: (factor) => `Nimm notierte Zeiten mal ${factor}.`,
    scraps: 'Kontrollreste',
    number: 'Nr.',
    which: 'Verglichen mit',
    hours: (hours) => `${hours} Lampenstunden`,
    tellsNothing: 'zu hell oder zu tief, um eine Verschiebung zu zeigen',
    earlier: 'von einer früheren Grundlinie',
    noneTells: 'Noch zeigt kein Kontrollrest eine Verschiebung. Belichte einen bis etwa zur halben Tiefe.',
    gatheringNext:
      'Belichte denselben Rest nächstes Mal wieder ebenso, lies ihn und trage ihn als Kontrollrest ein. Bis dahin verschiebt allein der neueste deine Zeiten.',
    timesStay: 'Notierte Zeiten bleiben, wie sie sind.',
    ranges: 'Abstand vom vorigen (Blenden)',
    keys: { mean: 'Mittel', limit: 'Grenzen', average: 'gleitendes Mittel', odd: 'fällt auf' },
    meanings: 'Wie die Grenzen entstehen und was jedes Zeichen heißt',
    limitsMade:
      'Die Grenzen liegen beiderseits 2,66 mittlere Abstände von einem Rest zum nächsten vom Mittel: Gleichmäßiges Licht bleibt 997-mal von 1000 darin. Ab 8 Resten werden sie gezeichnet und ändern sich mit jedem neuen; ab 20 bleiben sie. Ein anderer Aufbau, Ansatz oder Lampensatz beginnt neu.',
    means: {
      'beyond-limits':
        'Der Zufall allein tut das etwa 3-mal von 1000. Wiederhole diesen Rest, bevor du eine Zeit änderst.',
      'two-of-three':
        'Auf derselben Seite, weiter draußen als zwei Drittel des Wegs zur Grenze. Das Licht hat sich wohl geändert: Wiederhole den Rest.',
      'four-of-five':
        'Weiter draußen als ein Drittel des Wegs zur Grenze: eine kleine Änderung, die bleibt. Zeiten gehen nach dem verschobenen Licht.',
      'eight-on-one-side':
        'Gleichmäßiges Licht fällt bald auf die eine, bald auf die andere Seite des Mittels: Das ist eine kleine Änderung, die bleibt.',
      'moving-average':
        'Das Mittel, in dem der neueste Rest am meisten zählt, hat seine eigenen Grenzen verlassen: Das Licht lässt langsam nach oder nimmt zu.',
      'moving-range':
        'Zwei Reste hintereinander unterscheiden sich mehr als sonst: Dazwischen hat sich etwas geändert, oder einer wurde anders gemacht.',
    },
    date: 'Belichtet',
    shift: 'Verschiebung (Blenden)',
    rules: 'Was auffällt',
    rule: {
      'beyond-limits': 'außerhalb der Grenzen',
      'two-of-three': 'zwei von drei weit auf einer Seite',
      'four-of-five': 'vier von fünf auf einer Seite',
      'eight-on-one-side': 'acht hintereinander auf einer Seite',
      'moving-average': 'gleitendes Mittel außerhalb seiner Grenzen',
      'moving-range': 'ein Sprung zwischen zwei Resten',
    },
    point: (number, what) => `Nr. ${number}: ${what}`,
  },

  evenness: {
    stale: 'Was angegeben ist, hat sich seither geändert: Zeichne die Karte neu.',
    clear: 'Fotos und Karte weglegen',
    cleared: 'Fotos und Karte sind weggelegt.',
    heading: 'Gleichmäßigkeit des Betts',
    why: 'Belichte einen ganzen beschichteten Bogen mit einer einzigen Zeit bis zu mittlerer Tiefe, wasche und trockne ihn und fotografiere ihn neben der Karte. Der Plan zeigt, wo das Bett weniger Licht bekommt.',
    noCurve: 'Hier ist noch kein Streifen mit einer Kurve bekannt.',
    noCurveNext:
      'Lies zuerst einen Teststreifen dieses Farbstoffs auf diesem Tuch: Seine Kurve macht aus Tiefe Licht.',
    curve: 'Kurve dieses Farbstoffs auf diesem Tuch',
    chooseCurve: 'Wähle einen Streifen',
    noCurveChosen: 'Wähle den Streifen, dessen Kurve für diesen Farbstoff und dieses Tuch gilt.',
    noCard: 'Gib die Felder deiner Karte an.',
    fieldsWrong: 'Berichtige die bezeichneten Zahlen.',
    photo: 'Foto des Bogens',
    photoNote: 'Ringsum soll eine Handbreit schlichter, gleichmäßiger Tisch zu sehen sein.',
    turned: 'Zweites Foto, gedreht',
    turnedNote:
      'Drehe Bogen und Karte auf dem Tisch um 180° und fotografiere sie noch einmal: Was beim Bogen bleibt, ist die Lampe, was beim Tisch bleibt, das Licht im Raum.',
    chooseTurned: 'Gedrehtes Foto dazunehmen',
    withoutTurned: 'Zweites Foto weglassen',
    alt: 'Der fotografierte Bogen; Bogen und Karte sind umrandet',
    sheet: 'Bogen',
    topLeft: 'oben links',
    nextCorner: 'Oben links liegt an der nächsten Ecke',
    help: 'Ziehe die runden Griffe auf die Ecken des Bogens, wähle dann die Karte und mache es dort ebenso. „Oben links“ sagt, wie der Bogen auf dem Bett lag.',
    tolerance: 'Gleich auf ± (%)',
    columns: 'Zellen quer',
    rows: 'Zellen längs',
    range: (least, most) => `Eine ganze Zahl von ${least} bis ${most}.`,
    draw: 'Licht aufzeichnen',
    drawing: 'Der Bogen wird gelesen …',
    map: 'Licht über dem Bett',
    mapLabel: (rows, columns, what) =>
      `Plan des Betts in ${rows} Reihen zu ${columns} Zellen, jede mit ihrem Licht gegen die brauchbare Mitte: ${what}`,
    unit: 'Einheit des Plans',
    units: { percent: 'Prozent', stops: 'Blenden' },
    key: 'Die Zahlen sagen, wie viel mehr oder weniger Licht eine Zelle bekommt. ▲ und ▼: außerhalb der Toleranz. Gestrichelter Rahmen: das größte brauchbare Rechteck.',
    smooth:
      'Gezeigt wird eine glatte Fläche durch die Zellen: Sie passt zu ihnen im Rahmen ihrer Unsicherheit.',
    uNote: '±: eine Standardunsicherheit gegen das Mittel aller Zellen.',
    asTable: 'Die Zellen als Tabelle',
    row: 'Reihe',
    within: (percent) => `Innerhalb von ±${percent} %`,
    share: (share, low, high) => `${share} % der Zellen (${low} bis ${high} %)`,
    wholeArea: 'Der ganze Bogen ist brauchbar.',
    noArea: 'Bei dieser Toleranz ist kein Teil brauchbar.',
    area: (across, allAcross, down, allDown, column, row) =>
      `Größtes brauchbares Rechteck: ${across} von ${allAcross} Zellen quer, ${down} von ${allDown} längs, ab Spalte ${column}, Reihe ${row}.`,
    open: (across, down) =>
      `Was dieses Foto nicht trennen kann: Ein Gefälle bis ${across} % von links nach rechts und ${down} % von oben nach unten kann so gut das Licht im Raum sein wie die Lampe. Ein gedrehtes Foto engt das ein.`,
    pattern: {
      even: 'Gleichmäßig',
      'one-side-low': 'Eine Seite bekommt weniger Licht',
      'edges-low': 'Die Ränder bekommen weniger Licht',
      'middle-low': 'Die Mitte bekommt weniger Licht',
      'one-band-low': 'Ein Band bekommt weniger Licht',
      bands: 'Helle und dunkle Bänder',
      'corner-low': 'Eine Ecke bekommt weniger Licht',
      patchy: 'Einzelne Zellen weichen ab',
      'not-separable': 'Lampe und Raumlicht lassen sich nicht trennen',
    },
    advice: {
      even: 'Nichts fällt auf: Es ist nichts zu ändern.',
      'one-side-low': 'Richte die Lampe mittig und waagerecht über dem Bett aus und prüfe die Röhren dort.',
      'edges-low':
        'Nimm die Mitte, setze Reflektoren an die Seiten oder eine Lampe, die weiter hinausreicht.',
      'middle-low': 'Prüfe die mittleren Röhren und ob der Bogen durchhängt oder das Glas dort abhebt.',
      'one-band-low':
        'Dort lässt vielleicht eine Röhre nach: Tausche alle zusammen und mache eine neue Kurve.',
      bands:
        'Rücke das Bett mindestens so weit von den Röhren ab, wie sie voneinander entfernt sind; mache dann eine neue Kurve.',
      'corner-low':
        'Suche dort einen Schatten, ein Röhrenende oder einen fehlenden Reflektor, oder halte die Ecke frei.',
      patchy: 'Das ist eher Beschichtung, Tuch oder Wäsche als Licht: Wiederhole es mit gedrehtem Bogen.',
      'not-separable': 'Fotografiere den Bogen um 180° gedreht noch einmal und nimm dieses Foto dazu.',
    },
    place: (where) =>
      where === null
        ? ''
        : Object.entries({
            'top and bottom edges': 'oberer und unterer Rand',
            'left and right edges': 'linker und rechter Rand',
            'all edges': 'alle Ränder',
            columns: 'Spalten',
            rows: 'Reihen',
            column: 'Spalte',
            row: 'Reihe',
            top: 'oben',
            bottom: 'unten',
            left: 'links',
            right: 'rechts',
            ' side': '',
          }).reduce((text, [from, to]) => text.replace(from, to), where),
    notMapped: {
      'not-readable': 'Zu viele Zellen sind zu blass oder zu tief, um ihr Licht zu zeigen.',
      'light-unknown': 'Das Licht im Raum ist in diesem Foto nicht bekannt; der Plan wird zurückgehalten.',
    },
    notMappedNext: {
      'not-readable': 'Belichte einen weiteren Bogen bis zu mittlerer Tiefe, 50 bis 80 %.',
      'light-unknown': 'Fotografiere noch einmal mit schlichtem, gleichmäßigem Tisch rings um den Bogen.',
    },
  },

  archive: {
    heading: 'Ein und aus',
    out: 'Alles herausnehmen',
    outNote: 'Eine Datei mit allem aus dem Buch, samt Fotos. Ein anderes Tonestep kann sie aufnehmen.',
    outButton: 'Das Buch herausnehmen (ZIP)',
    in: 'Ein Buch aufnehmen',
    inNote: 'Was schon da ist, wird nicht verdoppelt; nichts wird überschrieben.',
    inButton: 'Archiv wählen',
    inDone: (added, already) => `${added} Einträge kamen dazu, ${already} waren schon da.`,
    working: 'Wird aufgenommen …',
    place: 'Datenordner',
    placeHidden: 'Wird nur am Rechner selbst gezeigt.',
    counts: (readings, photos, megabytes) => `${readings} Lesungen, ${photos} Fotos, ${megabytes} MB`,
  },

  phone: {
    heading: 'Mein Telefon benutzen',
    button: 'Mein Telefon als Kamera benutzen',
    scan: 'Lies das mit dem Telefon, oder öffne dort die Adresse und tippe den Code ein.',
    qr: 'Quadratischer Code mit Adresse und Verbindungscode',
    address: 'Adresse',
    code: 'Code',
    until: (time) => `Gültig bis ${time}.`,
    again: 'Neuer Code',
    close: 'Schließen',
    paired: (name) => `Verbunden: ${name}`,
    mayUseBook: 'Darf das Buch benutzen',
    end: 'Trennen',
    arrived: 'Vom Telefon',
    take: 'Dieses Foto nehmen',
    waiting: 'Fotos, die du mit dem Telefon aufnimmst, erscheinen hier sofort.',
    pairTitle: 'Dieses Telefon verbinden',
    pairNote: 'Tippe den Code ein, den der Rechner zeigt.',
    pair: 'Verbinden',
    pairing: 'Wird verbunden …',
    ready: 'Dieses Telefon ist verbunden.',
    shoot: 'Den Streifen fotografieren',
    pick: 'Foto wählen',
    sending: 'Das Foto wird gesendet …',
    sent: 'Das Foto ist auf dem Rechner.',
    sentAgain: 'Der Rechner hat dieses Foto schon.',
    readHere: 'Oder lies einen Streifen auf diesem Telefon selbst: Die Teile unten gehen auch hier.',
  },

  settings: {
    heading: 'Einstellungen',
    language: 'Sprache',
    languages: { en: 'English', de: 'Deutsch' },
    theme: 'Helligkeit der Seite',
    themes: { light: 'Hell', dark: 'Dunkel', system: 'Wie das Gerät' },
    themeNote: 'Beides ist neutrales Grau, damit Farben darauf gerecht beurteilt werden.',
    timerStep: 'Kleinster Schritt deiner Schaltuhr (s)',
    thresholds: 'Wann eine Stufe als verwaschen, voll oder überbelichtet gilt',
    thresholdsNote:
      'Ein leeres Feld lässt den üblichen Wert. Was von jetzt an gelesen wird, richtet sich danach.',
    threshold: {
      leastDeltaE: 'Verwaschen unter diesem ΔE00 zum Grund',
      leastTimesU: 'oder unter so vielen seiner Standardunsicherheiten',
      leastDepthPercent: 'oder unter dieser Tiefe (%)',
      fullWithinL: 'Volle Tiefe bis auf so viele L* an die tiefste',
      overexposedStops: 'Überbelichtet so viele Blenden nach der kürzesten vollen Stufe',
    },
    thresholdWrong: (most) => `Eine Zahl von 0 bis ${most}.`,
    timerStepNote: 'Geplante Zeiten werden darauf gerundet. Leer lassen für ganze Sekunden.',
    kept: 'Diese Einstellungen bleiben in diesem Browser.',
  },

  demo: {
    'hemp-banner-blue': {
      title: 'Blau auf dem Hanfbanner',
      story:
        'Ein Streifen Bannerhanf mit dem lichtfixierten Blau, ein Grund und sechs Stufen unter den Schwarzlichtröhren, neben einer Karte mit Weiß, Grau und Schwarz auf dem Zuschneidetisch.',
    },
    'silk-scarf-plum': {
      title: 'Pflaume auf Resten von Seidentuch',
      story:
        'Tuchseide in Reststücke geschnitten, jedes einmal belichtet, in zwei Reihen auf dunklem Filz neben einem Graukeil mit zehn Feldern; der Seetang soll pflaumenfarben werden, nicht schwarz.',
    },
    'cotton-blueprint': {
      title: 'Eisenblaudruck auf Baumwolle für die Matrosenkragen',
      story:
        'Eisenblaudruck auf gewaschener Baumwolle in der Mittagssonne, die Abdeckung stufenweise vorgerückt, nur mit einer Graukarte von 18 % auf den Dielen der Werkstatt fotografiert.',
    },
    'linen-brown-too-short': {
      title: 'Braun auf Leinen, ein zu kurzer Streifen',
      story:
        'Ein erster Versuch mit Tangbraun auf Leinen für die Schürzen der Bootsmannschaft: Der Streifen blieb von einem Ende zum anderen blass, der nächste muss also länger werden.',
    },
  },

  warning: {
    'base-missing':
      'Kein Grund: Ohne unbelichtete, gewaschene Stufe fehlt der Tiefe der Anfang. Lass eine immer abgedeckt.',
    'card-clipped':
      'Die Karte ist ausgebrannt oder zugelaufen. Fotografiere etwas dunkler oder heller, sodass jedes Feld Zeichnung hat.',
    'card-patch-refused':
      'Ein Kartenfeld wurde ausgelassen, weil es nicht zu den anderen passt: Glanz, Schatten oder falsche Reihenfolge. Prüfe die Karte.',
    'few-steps':
      'Wenige Stufen geben nur eine vorsichtige Antwort: Die Biegung der Kurve muss angenommen werden. Vier oder mehr zeigen sie.',
    glare:
      'Eine Lampe oder ein Fenster spiegelt sich. Rücke Lampe oder Kamera, bis der Glanz weg ist, und fotografiere neu.',
    'light-mixed':
      'Die Farbe des Lichts wechselt über Karte und Streifen, wie zwischen Fenster und Lampe. Nimm nur eine Art Licht.',
    'light-not-evened':
      'Das Tischlicht ließ sich nicht gut ausgleichen. Lege Karte und Streifen auf eine einfarbige Platte, die das Foto ausfüllt.',
    'light-uneven':
      'Das Licht auf Karte und Streifen ist sehr ungleich. Stelle die Lampe weiter weg oder lege beides gleich weit von ihr.',
    'marks-uncertain':
      'Karte und Stufen wurden gefunden, aber nicht sicher. Sieh dir die Markierungen im Foto an und setze sie von Hand, wo sie nicht stimmen.',
    'moves-too-close':
      'Zwei Bewegungen folgen zu schnell aufeinander; Hände brauchen etwa 5 s. Beginne länger, häng die Lampe höher oder belichte Reststücke nacheinander.',
    'other-light':
      'Die Zeit des Herstellers gilt für anderes Licht. Der Faktor zwischen zwei Lichtern gilt nur für einen Farbstoff und ist nicht bekannt. Bleibt der Streifen leer, prüfe zuerst die Lichtquelle.',
    'photo-blurred':
      'Das Foto ist unscharf. Tippe zum Scharfstellen auf die Karte, stütze das Telefon auf und fotografiere neu.',
    'photo-far': 'Karte und Streifen füllen nur wenig vom Foto. Geh beim nächsten Mal näher heran.',
    'photo-oblique':
      'Das Foto wurde von der Seite aufgenommen, wo Tuch glänzt. Halte die Kamera gerade darüber.',
    'photo-saved-small':
      'Das Foto hat wenige Bildpunkte. Gib die Originaldatei des Telefons her, keine verkleinerte.',
    'range-too-narrow':
      'Von der kürzesten zur längsten Stufe ist es nicht weit; ein Farbstoff zeigt so vielleicht nicht beide Enden. Füge Stufen hinzu.',
    relative:
      'Die brauchbaren Kartenfelder sind gleich hell, darum ist der Ton der Kamera nicht bekannt: Die Werte sind relativ und unsicher. Eine Karte mit Weiß, Grau und Schwarz ist besser.',
    'shadow-edge':
      'Der Rand eines Schattens läuft über Karte und Streifen. Stell dich so, dass weder du noch das Telefon Schatten wirft, und fotografiere neu.',
    'sky-uncertain':
      'Unter so einem Himmel kann die Zeit weit von der des Herstellers abweichen; der Streifen ist darum weit angelegt.',
    'step-clipped':
      'Eine Stufe ist ausgebrannt oder zugelaufen. Belichte das Foto anders, sodass jede Stufe Zeichnung hat.',
    'steps-merged':
      'Stufen fielen auf dieselbe Einstellung der Schaltuhr und wurden zusammengelegt. Beginne länger oder häng die Lampe höher.',
    'steps-not-marked': 'Nicht alle Stufen sind markiert; die anderen blieben weg.',
    'steps-too-coarse':
      'Stufen liegen weit auseinander: In den steilen Teil der Kurve fielen weniger als drei. Lege sie enger.',
    'steps-too-fine':
      'Stufen liegen enger, als eine Ablesung trennen kann. Lege sie weiter auseinander oder belichte jede zweimal.',
    'sun-changes':
      'Der Streifen dauert so lange, dass sich die Sonne dabei ändert. Belichte um Mittag, warte auf klareren Himmel oder lass die längste Stufe weg.',
    'target-beyond-curve':
      'Die Kurve legt das Ziel mehr als eine Blende hinter ihre längste Stufe. Lies erst diesen Streifen, bevor du weitergehst.',
    'target-unattainable':
      'Die frühere Kurve kommt nicht bis zu diesem Ziel. Der Streifen ist um die volle Tiefe geplant.',
    'timer-too-coarse':
      'Die Schaltuhr verschiebt eine Stufe merklich. Der Plan nennt die Zeiten, wie sie eingestellt werden; eine längere Reihe wäre treuer.',
  },
  otherWarning: 'Bedenke',

  note: {
    cover:
      'Nimm eine Abdeckung, durch die kein Ultraviolett dringt; sie liegt flach auf und zieht das Tuch nicht mit. Licht kriecht unter ihren Rand: Gelesen wird nur die Mitte jeder Stufe.',
    intermittency:
      'Das Licht geht für jede Bewegung aus, eine Stufe bekommt ihre Zeit also in mehreren Schüben. Mehrere kurze Belichtungen wirken vielleicht nicht wie eine lange von gleicher Summe. Lass das Licht brennen, wenn du kannst; sonst prüfe die endgültige Zeit an einem Rest in einem Zug.',
    'lamp-warm-up':
      'Lass die Röhren vor der ersten Belichtung 5 bis 10 min brennen, hinter einem Verschluss oder bei abgedecktem Tuch. Jedes Einschalten kalter Röhren kostet Licht.',
    'middle-of-bed':
      'Die Stufen liegen in einer Reihe, ungleiches Licht gilt darum als Belichtung: Nimm die Mitte des Belichtungsbetts und drehe einen zweiten Streifen um.',
    'mixed-order':
      'Lege die Reststücke in der angegebenen Reihenfolge, kurze und lange gemischt; sonst gilt ungleiches Licht als Belichtung.',
    'one-stretch':
      'Lass das Licht brennen: Jede Stufe bekommt ihr Licht dann in einem Zug, wie später das Stück.',
    'same-place': 'Lege jedes Reststück auf dieselbe Stelle in der Mitte des Belichtungsbetts.',
    'same-wash': 'Wasche und trockne alle Stufen und den Grund zusammen, so wie später das Stück.',
    'sun-does-not-repeat':
      'Die Sonne wiederholt diesen Streifen nicht. Schreibe Himmel, Uhrzeit und Winkel auf und lege neben jedes Stück einen Kontrollrest.',
    'sun-protection': 'Schütze Haut und Augen auch in der Sonne; achte auf den örtlichen UV-Index.',
  },

  cautions: {
    heading: 'Vorsicht',
    of: germanCautions,
  },

  errors: {
    'photo-unreadable': {
      what: 'Diese Datei ist kein Foto, das sich öffnen lässt.',
      next: 'Wähle das Foto selbst: JPEG, HEIC, PNG, WebP, TIFF oder AVIF.',
    },
    'photo-damaged': {
      what: 'Die Fotodatei ist beschädigt oder bricht ab.',
      next: 'Kopiere sie noch einmal vom Telefon oder fotografiere neu.',
    },
    'photo-format-unsupported': {
      what: 'Diese Art Datei lässt sich nicht lesen.',
      next: 'Sichere das Foto als JPEG, PNG oder TIFF und wähle es noch einmal.',
    },
    'photo-too-large': {
      what: 'Das Foto hat zu viele Bildpunkte.',
      next: 'Sichere es kleiner: 12 Megapixel reichen völlig.',
    },
    'photo-too-small': {
      what: 'Das Foto hat zu wenige Bildpunkte, um Stufen zu trennen.',
      next: 'Sende das Original vom Telefon, kein Vorschaubild und kein Bildschirmfoto.',
    },
    'profile-unsupported': {
      what: 'Das Farbprofil des Fotos lässt sich nicht verwenden.',
      next: 'Sichere das Foto mit einem Profil sRGB oder Display P3 und wähle es noch einmal.',
    },
    'strip-invalid': {
      what: 'Die Beschreibung des Streifens passt nicht.',
      next: 'Prüfe die Belichtungszeiten: jede Stufe einmal, keine negativ.',
    },
    'card-invalid': {
      what: 'Die Werte der Karte passen nicht.',
      next: 'Prüfe die Felder: für jedes ein eigener Name und ein sinnvoller Wert.',
    },
    'marks-invalid': {
      what: 'Die Markierungen ergeben keine richtigen Flächen.',
      next: 'Ziehe überkreuzte Ecken auseinander und lies dann neu.',
    },
    'marks-outside-photo': {
      what: 'Eine Markierung liegt außerhalb des Fotos.',
      next: 'Ziehe jede Ecke ins Bild und lies dann neu.',
    },
    'marks-too-small': {
      what: 'Eine Markierung ist zu klein zum Lesen.',
      next: 'Mach sie größer oder fotografiere den Streifen aus der Nähe.',
    },
    'card-not-found': {
      what: 'Die Karte wurde im Foto nicht gefunden.',
      next: 'Prüfe, ob die richtige Karte gewählt ist. Setze dann die Markierungen von Hand oder fotografiere Karte und Streifen auf einfarbigem Grund.',
    },
    'strip-not-found': {
      what: 'Der Streifen wurde im Foto nicht gefunden.',
      next: 'Prüfe, ob die Zeit jeder Stufe dasteht. Setze dann die Markierungen von Hand oder fotografiere den Streifen auf einfarbigem Grund.',
    },
    'card-unusable': {
      what: 'Die Karte ist in diesem Foto nicht brauchbar.',
      next: 'Fotografiere sie noch einmal ohne Glanz und Schatten, etwas dunkler, falls sie ausgebrannt ist.',
    },
    'target-invalid': {
      what: 'Dieses Ziel lässt sich nicht verwenden.',
      next: 'Wähle ein L* zwischen 0 und 100 oder eine Tiefe bis 100 %.',
    },
    'plan-invalid': {
      what: 'Diese Reihe lässt sich nicht machen.',
      next: 'Prüfe die erste Zeit und die Zahl der Stufen.',
    },
    'comparison-invalid': {
      what: 'Diese Streifen lassen sich nicht vergleichen.',
      next: 'Vergleiche Streifen auf einem Tuch, die jeder eine Kurve haben.',
    },
    'request-invalid': {
      what: 'Das Foto kam nicht ganz an.',
      next: 'Sende es noch einmal.',
    },
    'upload-too-large': {
      what: 'Die Datei ist größer als 60 MB.',
      next: 'Sichere das Foto als JPEG oder kleiner und wähle es noch einmal.',
    },
    busy: {
      what: 'Gerade werden andere Fotos gelesen.',
      next: 'Warte ein paar Sekunden und lies dann noch einmal.',
    },
    'timed-out': {
      what: 'Das Lesen dauerte zu lange und wurde abgebrochen.',
      next: 'Sichere das Foto kleiner (12 Megapixel reichen völlig) und lies noch einmal.',
    },
    'host-refused': {
      what: 'Die Seite wurde unter einer Adresse geöffnet, auf die der Server nicht antwortet.',
      next: 'Öffne die Adresse, die beim Start von Tonestep ausgegeben wurde.',
    },
    'origin-refused': {
      what: 'Der Server nimmt Fotos nur von seiner eigenen Seite an.',
      next: 'Öffne die Adresse, die beim Start von Tonestep ausgegeben wurde.',
    },
    'pairing-needed': {
      what: 'Dieses Telefon ist nicht mit dem Rechner verbunden.',
      next: 'Wähle „Telefon“ auf der Seite am Rechner und lies dort das Bild mit der Kamera oder tippe den Code ein.',
    },
    'pairing-refused': {
      what: 'Dieser Code ist falsch, verbraucht oder zu alt.',
      next: 'Lass dir auf der Seite am Rechner einen neuen geben und benutze ihn binnen fünf Minuten.',
    },
    'pairing-limited': {
      what: 'Es wurden zu viele Codes probiert.',
      next: 'Warte eine Minute und tippe dann den Code, den der Rechner jetzt zeigt.',
    },
    'pairing-full': {
      what: 'Es sind schon so viele Telefone verbunden, wie Tonestep annimmt.',
      next: 'Trenne auf der Seite am Rechner ein Telefon und verbinde dann dieses.',
    },
    'lan-off': {
      what: 'Telefone erreichen diesen Rechner noch nicht: Tonestep bleibt für sich, solange man es nicht anders sagt.',
      next: 'Beende Tonestep und starte es mit: npm start -- --lan',
    },
    'computer-only': {
      what: 'Das darf ein Telefon nicht.',
      next: 'Tu es auf der Seite des Rechners, auf dem Tonestep läuft.',
    },
    'book-shut': {
      what: 'Das Buch steht diesem Telefon nicht offen.',
      next: 'Wähle auf der Seite am Rechner beim verbundenen Telefon, dass es das Buch benutzen darf.',
    },
    'inbox-full': {
      what: 'Für ein weiteres Foto ist kein Platz; dieses wurde nicht behalten.',
      next: 'Nimm am Rechner Fotos aus dem Eingang und sende dieses dann noch einmal.',
    },
    'archive-invalid': {
      what: 'Diese Datei ist kein Archiv eines Tonestep-Buchs; nichts wurde eingetragen.',
      next: 'Wähle die Datei, die der Export erzeugt hat, unverändert.',
    },
    'archive-damaged': {
      what: 'Das Archiv ist beschädigt oder bricht ab; nichts wurde eingetragen.',
      next: 'Kopiere es noch einmal von dort, wo es entstand, oder exportiere das andere Buch neu.',
    },
    'archive-too-large': {
      what: 'Das Archiv ist größer, als ein Buch sein kann; nichts wurde eingetragen.',
      next: 'Lies nur Archive ein, die du selbst oder Menschen deines Vertrauens gemacht haben.',
    },
    'disk-full': {
      what: 'Die Platte ist voll; nichts wurde eingetragen und nichts ging verloren.',
      next: 'Schaffe Platz auf der Platte, auf der das Buch liegt, und trage es dann noch einmal ein.',
    },
    'book-read-only': {
      what: 'In das Buch lässt sich nicht schreiben: Sein Ordner ist schreibgeschützt.',
      next: 'Mach den Datenordner für dich beschreibbar oder wähle mit TONESTEP_DATA einen anderen; versuche es dann noch einmal.',
    },
    'book-busy': {
      what: 'Ein anderes Programm schreibt gerade in das Buch.',
      next: 'Versuche es in ein paar Sekunden noch einmal.',
    },
    'book-unavailable': {
      what: 'Das Buch lässt sich nicht öffnen.',
      next: 'Sieh nach, was der Server beim Start ausgegeben hat, bring es in Ordnung und versuche es dann noch einmal.',
    },
    'book-conflict': {
      what: 'Das verträgt sich nicht mit dem, was schon im Buch steht.',
      next: 'Lies die Meldung, wähle einen anderen Namen oder lade die Seite neu und versuche es dann noch einmal.',
    },
    'book-incomplete': {
      what: 'Es fehlt etwas, um das im Buch wiederzufinden.',
      next: 'Nenne Farbstoff, Tuch und Licht und trage es dann ein.',
    },
    'marks-unconfirmed': {
      what: 'Die Markierungen wurden nicht sicher gefunden, darum ist die Lesung noch nicht eingetragen.',
      next: 'Sieh dir die Markierungen im Foto an, setze sie richtig, wo sie nicht stimmen, und sage, dass sie stimmen.',
    },
    'no-calibration': {
      what: 'Im Buch steht nichts zu diesem Farbstoff, Tuch und Licht.',
      next: 'Trage zuerst einen Teststreifen damit ein.',
    },
    'photo-lost': {
      what: 'Das Foto dieser Lesung liegt nicht mehr im Datenordner.',
      next: 'Hole den Fotoordner aus einer Sicherung zurück und versuche es dann noch einmal.',
    },
    'photo-forgotten': {
      what: 'Tonestep hat dieses Foto nicht mehr.',
      next: 'Schicke das Foto noch einmal.',
    },
    'not-found': {
      what: 'Was gefragt war, ist nicht da.',
      next: 'Lade die Seite neu.',
    },
    internal: {
      what: 'In Tonestep ist etwas schiefgegangen.',
      next: 'Lies noch einmal. Geht es wieder schief, versuche ein anderes Foto und melde es mit diesem.',
    },
    'server-gone': {
      what: 'Der Server von Tonestep antwortet nicht.',
      next: 'Prüfe, ob er noch läuft (npm start), und versuche es dann noch einmal.',
    },
    'answer-unreadable': {
      what: 'Die Antwort des Servers ergibt für diese Seite keinen Sinn.',
      next: 'Lade die Seite neu: Der Server wurde vielleicht erneuert.',
    },
  },
};
