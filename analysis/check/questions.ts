/** Something only the person at the table can tell. */
export interface Question {
  readonly code: 'cloth-dry-and-flat';
  readonly text: string;
  readonly why: string;
}

/** What to ask before every reading, as no photo shows it: wet cloth looks like more exposure, not like a mistake. */
export const questions: readonly Question[] = [
  {
    code: 'cloth-dry-and-flat',
    text: 'Is the cloth dry and flat?',
    why: 'Wet cloth is darker than dry, and a fold is lit differently on either side; both read as more or less exposure.',
  },
];
