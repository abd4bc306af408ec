/**
 * Where two pieces of plain data differ, each as its path and both values; empty when they are the same. Numbers are
 * compared exactly.
 */
export function differences(kept: unknown, again: unknown, path = ''): string[] {
  if (isBranch(kept) && isBranch(again) && Array.isArray(kept) === Array.isArray(again)) {
    const keys = new Set([...Object.keys(kept), ...Object.keys(again)]);
    return [...keys].flatMap((key) =>
      differences(kept[key], again[key], path === '' ? key : `${path}.${key}`),
    );
  }
  return Object.is(kept, again) ? [] : [`${path}: ${written(kept)} in the record, ${written(again)} again`];
}

function isBranch(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}

function written(value: unknown): string {
  return value === undefined ? 'nothing' : JSON.stringify(value);
}
