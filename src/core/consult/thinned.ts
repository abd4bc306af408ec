/** Fewer items, evenly left out, both ends kept: a message has room for so many. */
export function thinned<Item>(items: readonly Item[], most: number): Item[] {
  if (items.length <= most) return [...items];
  const step = (items.length - 1) / (most - 1);
  return Array.from({ length: most }, (_, index) => items[Math.round(index * step)]).filter(
    (item) => item !== undefined,
  );
}
