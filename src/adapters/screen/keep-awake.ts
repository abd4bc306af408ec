/**
 * Asks the browser to keep the screen on, or to let it go dark again. Where it cannot, the screen goes dark as usual:
 * nothing measured depends on it.
 */
export function screenKeeper(): (isWanted: boolean) => void {
  let wanted = false;
  let lock: WakeLockSentinel | null = null;

  const settle = async (): Promise<void> => {
    if (!('wakeLock' in navigator)) return;
    try {
      if (wanted && lock === null) {
        lock = await navigator.wakeLock.request('screen');
        // The browser may take it back by itself, for example to save power; it is asked for at the next sight of the page.
        lock.addEventListener('release', () => (lock = null), { once: true });
      } else if (!wanted) await lock?.release();
    } catch {
      // Refused, for example on a low battery.
    }
    if (!wanted) lock = null;
  };

  // The lock is lost whenever the page is hidden and has to be asked for again.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState !== 'visible') lock = null;
    else if (wanted) void settle();
  });
  return (isWanted) => {
    wanted = isWanted;
    void settle();
  };
}
