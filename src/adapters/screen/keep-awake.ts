/**
 * Asks the browser to keep the screen on, or to let it go dark again. Where it cannot, the screen goes dark as usual:
 * nothing measured depends on it.
 */
export function screenKeeper(): (isWanted: boolean) => void {
  let wanted = false;
  let lock: WakeLockSentinel | null = null;

  const ask = async (): Promise<void> => {
    const got = await navigator.wakeLock.request('screen');
    // No longer wanted, or asked for twice: a lock that nobody holds would keep the screen on for good.
    if (!wanted || lock !== null) return got.release();
    lock = got;
    // The browser may take it back by itself, for example to save power; it is asked for at the next sight of the page.
    const taken = (): void => {
      if (lock === got) lock = null;
    };
    got.addEventListener('release', taken, { once: true });
  };

  const settle = async (): Promise<void> => {
    if (!('wakeLock' in navigator)) return;
    const held = lock;
    if (!wanted) lock = null;
    try {
      if (!wanted) await held?.release();
      else if (held === null) await ask();
    } catch {
      // Refused, for example on a low battery.
    }
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
