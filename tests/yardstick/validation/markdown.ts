/** A Markdown table, line by line. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)];
}

/** A share, 0 to 1, in whole per cent; "none" where there is nothing to take a share of. */
export function percent(share: number): string {
  return Number.isFinite(share) ? `${(share * 100).toFixed(0)} %` : 'none';
}
