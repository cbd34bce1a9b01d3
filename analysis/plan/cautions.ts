/** What to take care of, for people: shown where a strip is planned and timed and on printed sheets. */
export interface Caution {
  readonly key: string;
  readonly text: string;
}

/** Short cautions that go with every plan. General by nature: data sheets, makers and local codes come first. */
export const CAUTIONS = [
  {
    key: 'ultraviolet',
    text: "Ultraviolet lamps can hurt eyes and skin before you feel anything. Close the exposure unit or shield it; wear eyewear rated for the lamp's wavelengths; never look at lit tubes.",
  },
  {
    key: 'wiring',
    text: 'Lamp fittings near water: have wiring done by a licensed electrician, on a residual-current protected circuit, and follow the local code.',
  },
  {
    key: 'mercury',
    text: 'Fluorescent tubes contain mercury: if one breaks, air the room and follow your local disposal rules.',
  },
  {
    key: 'chemicals',
    text: "Dyes, sensitisers and wash chemicals: read the maker's safety data sheet; gloves, ventilation, no food vessels, keep from children. Never mix ferricyanide with strong acid or heat it. Ask your water authority before pouring wash water away.",
  },
  { key: 'glass', text: 'Glass: ground or taped edges, and let lamp-warmed glass cool.' },
  {
    key: 'starting-point',
    text: 'The advised times are a starting point measured from one photo; test on a scrap before an expensive piece.',
  },
  {
    key: 'professional',
    text: "Professional or public settings: licensed practice, local codes and the maker's sheets come before this tool.",
  },
] as const satisfies readonly Caution[];

export type CautionKey = (typeof CAUTIONS)[number]['key'];
