import type { CautionKey } from '../plan/cautions.ts';

/** What to take care of, in German. */
export const germanCautions: Readonly<Record<CautionKey, string>> = {
  ultraviolet:
    'Ultraviolettlampen können Augen und Haut verletzen, bevor du etwas spürst. Schließe das Belichtungsgerät oder schirme es ab; trage eine Brille, die für die Wellenlängen der Lampe zugelassen ist; sieh nie in brennende Röhren.',
  wiring:
    'Lampen in der Nähe von Wasser: Lass die Leitungen von einer Elektrofachkraft legen, an einem Stromkreis mit Fehlerstromschutz, und halte die örtlichen Vorschriften ein.',
  mercury:
    'Leuchtstoffröhren enthalten Quecksilber: Zerbricht eine, lüfte den Raum und entsorge sie nach den örtlichen Regeln.',
  chemicals:
    'Farbstoffe, Sensibilisatoren und Waschmittel: Lies das Sicherheitsdatenblatt des Herstellers; Handschuhe, Lüftung, keine Küchengefäße, von Kindern fernhalten. Mische Ferricyanid nie mit starker Säure und erhitze es nicht. Frage deinen Wasserversorger, bevor du Waschwasser weggießt.',
  glass: 'Glas: geschliffene oder abgeklebte Kanten; lass von der Lampe erwärmtes Glas abkühlen.',
  'starting-point':
    'Die empfohlenen Zeiten sind ein Ausgangspunkt, gemessen an einem einzigen Foto; probiere sie vor einem teuren Stück an einem Rest aus.',
  professional:
    'Gewerblich oder öffentlich: Zugelassene Arbeitsweise, örtliche Vorschriften und die Blätter der Hersteller gehen diesem Werkzeug vor.',
};
