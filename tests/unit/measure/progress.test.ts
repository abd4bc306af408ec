import { describe, expect, it } from 'vitest';
import { runProgress } from '../../../scripts/measure/progress.ts';

function setUp(isTTY: boolean, durations: readonly (number | null)[]) {
  let text = '';
  let now = 0;
  const screen = {
    isTTY,
    write: (more: string) => {
      text += more;
    },
  };
  const progress = runProgress(durations, screen, () => now);
  return {
    progress,
    at: (seconds: number) => {
      now = seconds;
    },
    text: () => text,
  };
}

describe('progress of a run', () => {
  it('says how much of the clips is done and how long the rest will take at that speed', () => {
    const { progress, at, text } = setUp(false, [30, 10]);
    at(20);
    progress.clipAt(0, 2 / 3);
    expect(text()).toBe('50 % (0 of 2 clips), about 20 s left\n');
    at(30);
    progress.clipDone(0);
    expect(text()).toContain('75 % (1 of 2 clips), about 10 s left\n');
    at(40);
    progress.clipDone(1);
    expect(text()).toContain('100 % (2 of 2 clips)');
  });

  it('renews one line on a screen, and a line that stays stands above it', () => {
    const { progress, at, text } = setUp(true, [300]);
    at(60);
    progress.clipAt(0, 0.1);
    progress.say('a sentence');
    expect(text()).toBe('\r\x1b[K10 % (0 of 1 clips), about 9 min left\r\x1b[Ka sentence\n');
  });

  it('does not flood a log: a line for each ten percent', () => {
    const { progress, text } = setUp(false, [100]);
    for (let percent = 1; percent <= 100; percent += 1) progress.clipAt(0, percent / 100);
    progress.clipDone(0);
    expect(text().trimEnd().split('\n')).toHaveLength(10);
  });

  it('says that all is done when the last clip is done and not before', () => {
    const { progress, text } = setUp(false, [100]);
    progress.clipAt(0, 1);
    expect(text()).toBe('99 % (0 of 1 clips)\n');
    progress.clipDone(0);
    expect(text()).toContain('100 % (1 of 1 clips)');
  });

  it('goes by the length of the others where a clip does not tell its own', () => {
    const { progress, text } = setUp(false, [null, 40]);
    progress.clipAt(0, 0.5);
    expect(text()).toContain('25 %');
  });
});
