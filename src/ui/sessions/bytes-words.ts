const UNITS = ['kB', 'MB', 'GB', 'TB'];

/** An amount of storage as it is read: "340 kB", "1.2 MB"; decimal units, one decimal under ten. Bytes at least 0. */
export function bytesWords(bytes: number): string {
  let amount = bytes / 1000;
  let place = 0;
  while (amount >= 999.5 && place < UNITS.length - 1) {
    amount /= 1000;
    place += 1;
  }
  const decimals = amount > 0 && amount < 9.95 && place > 0 ? 1 : 0;
  return `${amount.toFixed(decimals)} ${UNITS[place] ?? 'TB'}`;
}
