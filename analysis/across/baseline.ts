/** What of a control scrap says which series it belongs to. */
export interface ScrapSetup {
  /** What else is as always, in the printer's words. */
  readonly setup: string;
  /** The batch of sensitiser; null where it is not noted. */
  readonly batchId: string | null;
  /** What the lamps' hour meter showed; null where it is not noted. */
  readonly lampHours: number | null;
}

/**
 * Which control scraps go on one baseline? A text for each, alike for those that do: another setup or another batch
 * starts anew, and so does an hour meter that went back, which is a new set of lamps.
 *
 * @param scraps in the order of time.
 * @see method.md §9, [domain-6.17]
 * @example new Set(baselineTexts([{ setup: "bench", batchId: null, lampHours: 900 }, { setup: "bench", batchId: null, lampHours: 20 }])).size // 2
 */
export function baselineTexts(scraps: readonly ScrapSetup[]): string[] {
  let lampSet = 0;
  let hours = 0;
  return scraps.map(({ setup, batchId, lampHours }) => {
    if (lampHours !== null && lampHours < hours) lampSet += 1;
    hours = lampHours ?? hours;
    return [setup, batchId ?? '', lampSet].join(' · ');
  });
}
