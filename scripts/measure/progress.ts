/** Tells how far a run has come: one line that renews itself on a screen, a line now and then in a log. */
export interface Progress {
  /** A clip that is being measured: the share of it that is done, 0 to 1. */
  clipAt(index: number, share: number): void;
  clipDone(index: number): void;
  /** Writes a line that stays. */
  say(line: string): void;
  end(): void;
}

/** A log gets a line when so many percent more are done. */
const LOG_STEP_PERCENT = 10;

/** The part of a writable stream that is used. */
export interface Screen {
  readonly isTTY?: boolean;
  readonly columns?: number;
  write(text: string): unknown;
}

/**
 * Progress of a run over clips of the given lengths (null: not known). `nowSeconds` is a clock that only rises. The
 * remaining time is what the rest takes at the speed had so far.
 */
export function runProgress(
  durations: readonly (number | null)[],
  screen: Screen,
  nowSeconds: () => number,
): Progress {
  const known = durations.filter((seconds) => seconds !== null);
  const typical = known.length === 0 ? 30 : known.reduce((sum, seconds) => sum + seconds, 0) / known.length;
  const lengths = durations.map((seconds) => seconds ?? typical);
  const total = Math.max(
    1e-9,
    lengths.reduce((sum, seconds) => sum + seconds, 0),
  );
  const done = lengths.map(() => 0);
  const start = nowSeconds();
  let finished = 0;
  let logged = 0;

  const line = (): string => {
    const media = done.reduce((sum, seconds) => sum + seconds, 0);
    const share = Math.min(1, media / total);
    const elapsed = nowSeconds() - start;
    const left = share > 0 && elapsed > 1 ? `, ${remaining((elapsed * (1 - share)) / share)}` : '';
    // The last of the work is writing the results: not all is done before they are.
    const percent = Math.min(Math.floor(share * 100), finished < lengths.length ? 99 : 100);
    return `${String(percent)} % (${String(finished)} of ${String(lengths.length)} clips)${left}`;
  };
  const clear = (): void => {
    if (screen.isTTY === true) screen.write('\r\x1b[K');
  };
  const show = (): void => {
    if (screen.isTTY === true) {
      clear();
      screen.write(line());
      return;
    }
    const percent = Number.parseInt(line(), 10);
    if (percent < logged + LOG_STEP_PERCENT) return;
    logged = percent - (percent % LOG_STEP_PERCENT);
    screen.write(`${line()}\n`);
  };

  return {
    clipAt(index, share) {
      done[index] = Math.min(share, 1) * (lengths[index] ?? 0);
      show();
    },
    clipDone(index) {
      done[index] = lengths[index] ?? 0;
      finished += 1;
      show();
    },
    say(text) {
      clear();
      screen.write(`${text}\n`);
    },
    end: clear,
  };
}

function remaining(seconds: number): string {
  if (seconds < 60) return `about ${String(Math.max(1, Math.ceil(seconds / 5) * 5))} s left`;
  return `about ${String(Math.ceil(seconds / 60))} min left`;
}
