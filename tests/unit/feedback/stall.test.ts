import { describe, expect, it } from 'vitest';
import {
  isStalled,
  NO_FLOW,
  pictureCame,
  stallSentence,
  type PictureFlow,
} from '../../../src/core/feedback/stall.ts';

/** The flow after pictures came at these moments. */
function after(...seconds: number[]): PictureFlow {
  return seconds.reduce(pictureCame, NO_FLOW);
}

const seen = { isMuted: false, wasHidden: false, isShared: false, isMeasuring: true };

describe('pictures that do not come', () => {
  it('are not missed before the first one: the network may still be loading', () => {
    expect(stallSentence(NO_FLOW, { ...seen, nowSeconds: 100 })).toBeNull();
    expect(isStalled(NO_FLOW, 100)).toBe(false);
  });

  it('are missed after three seconds, and it is said for how long', () => {
    expect(stallSentence(after(0, 1), { ...seen, nowSeconds: 3.9 })).toBeNull();
    expect(stallSentence(after(0, 1), { ...seen, nowSeconds: 4 })).toMatch(
      /^No picture has come for 3 s\. Keep/,
    );
    expect(stallSentence(after(0, 1), { ...seen, nowSeconds: 131 })).toMatch(/for 2 min 10 s/);
    expect(isStalled(after(0, 1), 4)).toBe(true);
  });

  it('come with what to do: by whether the camera is paused or the page was hidden', () => {
    const at = { ...seen, nowSeconds: 10 };
    expect(stallSentence(after(1), { ...at, isMuted: true })).toContain('by its key or cover');
    expect(stallSentence(after(1), { ...at, wasHidden: true })).toContain('browsers slow pages down');
    expect(stallSentence(after(1), at)).toContain('what was measured is kept');
    const shared = stallSentence(after(1), { ...at, isShared: true, wasHidden: true });
    expect(shared).toContain('minimised or covered');
    expect(shared).not.toContain('camera');
  });

  it('are told once they come again, for six seconds, with what became of the set', () => {
    const flow = after(0, 1, 20, 20.1);
    expect(stallSentence(flow, { ...seen, nowSeconds: 20.2 })).toBe(
      'Pictures come again. The pause of 19 s is not measured; the set goes on.',
    );
    expect(stallSentence(flow, { ...seen, isMeasuring: false, nowSeconds: 20.2 })).not.toContain('set');
    expect(stallSentence(pictureCame(flow, 26), { ...seen, nowSeconds: 26.1 })).not.toContain('No picture');
    expect(stallSentence(after(0, 1, 20, 20.1, 22, 24, 26), { ...seen, nowSeconds: 26.1 })).toBeNull();
  });

  it('are no pause when they stumble for a second', () => {
    expect(stallSentence(after(0, 1, 2.9), { ...seen, nowSeconds: 3 })).toBeNull();
  });
});
