import { describe, expect, it } from 'vitest';
import { SILENT, stepSetupTalk } from '../../../src/core/feedback/setup-talk.ts';

/** When something is said of what there is to say, at ten looks a second. */
function saidAt(
  wordsAt: (seconds: number) => string | null,
  untilSeconds: number,
  isCorrection = true,
): [number, string | null][] {
  let talk = SILENT;
  const said: [number, string | null][] = [];
  for (let step = 0; step < untilSeconds * 10; step++) {
    const seconds = step / 10;
    const next = stepSetupTalk(talk, wordsAt(seconds), isCorrection, seconds);
    talk = next.talk;
    if (next.isSaid) said.push([seconds, wordsAt(seconds)]);
  }
  return said;
}

describe('the set-up check that talks', () => {
  it('says a correction once it has lasted, and again only while it persists, ever more rarely', () => {
    const times = saidAt(() => 'Turn round', 60).map(([seconds]) => seconds);
    expect(times[0]).toBeCloseTo(0.7, 5);
    const waits = times.slice(1).map((seconds, index) => seconds - (times[index] ?? 0));
    expect(waits[0]).toBeGreaterThanOrEqual(8);
    for (const [index, wait] of waits.slice(1).entries()) expect(wait).toBeGreaterThan(waits[index] ?? 0);
    expect(times.length).toBeLessThanOrEqual(5);
  });

  it('says nothing of what does not last', () => {
    expect(saidAt((seconds) => (seconds % 1 < 0.5 ? 'Turn round' : 'Camera back'), 30)).toEqual([]);
  });

  it('does not say the same again when it went away and came back soon', () => {
    const said = saidAt((seconds) => (seconds > 2 && seconds < 4 ? null : 'Turn round'), 7);
    expect(said).toHaveLength(1);
  });

  it('says another correction at once when the first is right', () => {
    const said = saidAt((seconds) => (seconds < 3 ? 'Turn round' : 'Camera back'), 6);
    expect(said.map(([, words]) => words)).toEqual(['Turn round', 'Camera back']);
  });

  it('says what is no correction once', () => {
    expect(saidAt(() => 'View is good', 60, false)).toHaveLength(1);
  });
});
