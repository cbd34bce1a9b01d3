/** "1 reading", "2 readings". */
export const counted = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;
