/** True where two pieces of plain data hold just the same, in whatever order their members stand. */
export function isSameValue(one: unknown, other: unknown): boolean {
  return JSON.stringify(inOrder(one)) === JSON.stringify(inOrder(other));
}

function inOrder(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOrder);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([name, inner]) => [name, inOrder(inner)]));
}
