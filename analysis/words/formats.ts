/** How numbers and times are written in the language that is spoken. */
export interface Formats {
  readonly number: (value: number, decimals: number) => string;
  readonly time: (seconds: number) => string;
}
