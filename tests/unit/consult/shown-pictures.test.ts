import { describe, expect, it } from 'vitest';
import type { LiveMessage } from '../../../src/core/consult/messages.ts';
import { ConsultPictures } from '../../../src/state/consult-pictures.svelte.ts';
import { LIVE } from '../../helpers/consult-samples.ts';

const PICTURE_MS = 40;
const RTP_START = 12_345;

/** Figures and pictures of one camera, 25 a second; each picture is shown two pictures after its figures came. */
function consult() {
  const pictures = new ConsultPictures({ offsetMs: () => 0, hold: () => undefined });
  const measured = (index: number): LiveMessage => ({
    ...LIVE,
    number: index,
    timeSeconds: (index * PICTURE_MS) / 1000,
    capturedMs: index * PICTURE_MS,
    repetitions: Math.floor(index / 25),
  });
  return {
    pictures,
    take: (index: number) => pictures.take(measured(index)),
    show: (index: number, atIndex = index) =>
      pictures.show(
        { rtpTimestamp: RTP_START + index * PICTURE_MS * 90, captureTime: index * PICTURE_MS },
        atIndex * PICTURE_MS,
      ),
    run(from: number, to: number): void {
      for (let index = from; index < to; index++) {
        this.take(index);
        if (index >= 2) this.show(index - 2, index);
      }
    },
  };
}

describe('numbers of the picture that is shown', () => {
  it('are those that were measured in it', () => {
    const { pictures, ...side } = consult();
    side.run(0, 200);
    expect(pictures.state).toBe('matched');
    expect(pictures.shown?.number).toBeGreaterThan(190);
  });

  it('stand there no longer when the picture stops and figures go on, and are back with it', () => {
    const { pictures, ...side } = consult();
    side.run(0, 200);
    for (let index = 200; index < 240; index++) side.take(index);
    expect(pictures.state).toBe('matched');
    for (let index = 240; index < 260; index++) side.take(index);
    expect([pictures.state, pictures.shown]).toEqual(['behind', null]);
    side.run(260, 300);
    expect(pictures.state).toBe('matched');
    expect(pictures.shown?.number).toBeGreaterThan(290);
  });

  it('are none of a picture that comes more than two seconds after its figures, and do not swing', () => {
    const { pictures, ...side } = consult();
    side.run(0, 200);
    for (let index = 200; index < 260; index++) side.take(index);
    for (let index = 260; index < 400; index++) {
      side.take(index);
      expect(side.show(index - 60, index)).not.toBeNull();
      expect([pictures.state, pictures.shown]).toEqual(['behind', null]);
    }
  });
});
