/** So many items are made in one frame of the screen: a long list at once would hold up the page. */
const ITEMS_A_FRAME = 6;

/**
 * How many items of a list are shown by now: a few at first, and a few more with each frame of the screen until all
 * are there. To be called while a component is set up. Gives a function that reads the number.
 */
export function unfolding(count: () => number, itemsAFrame = ITEMS_A_FRAME): () => number {
  let shown = $state(itemsAFrame);
  $effect(() => {
    if (shown >= count()) return;
    const request = requestAnimationFrame(() => (shown += itemsAFrame));
    return () => cancelAnimationFrame(request);
  });
  return () => shown;
}
