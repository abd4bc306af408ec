import type { Exercise } from '../../../src/core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { openAnswers } from '../../../src/core/session/assemble-record.ts';
import { measureAndJudge } from '../../../src/core/session/build-session.ts';
import { encodeFrames } from '../../../src/core/session/quantised-frames.ts';
import {
  RECORD_FORMAT,
  RECORD_VERSION,
  type SessionHeader,
  type SessionRecord,
} from '../../../src/core/session/session-record.ts';
import { curl, NETWORK_NOISE, STANDING, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

/** The header of a session of an invented person, 175 cm tall, left arm treated. */
export function sampleHeader(exercise: Exercise = 'free-curl'): SessionHeader {
  return {
    format: RECORD_FORMAT,
    schemaVersion: RECORD_VERSION,
    id: '3f1c2b4e-8d57-4a6f-9b0e-5c2d7a91e604',
    createdAt: '2026-03-02T18:05:09.250+01:00',
    software: { name: 'Forearmed', version: '0.1.0' },
    estimator: { model: 'blazepose-full', runtime: 'stick body, seeded', modelSha256s: ['a'.repeat(64)] },
    source: { kind: 'camera', label: 'Desk camera', durationSeconds: null, widthPx: 640, heightPx: 480 },
    settings: { exercise, side: 'left', variant: null, statureCm: 175 },
    thresholds: DEFAULT_THRESHOLDS,
    plan: null,
  };
}

/** A seeded film of curls, four seconds each, as a network with scatter sees them. */
export function curlFilm(seconds: number, seed = 7, rateHz = 30): PoseFrame[] {
  return new SyntheticNetwork({ noise: NETWORK_NOISE, seed }).film(curl(), seconds, rateHz);
}

/** A seeded film of a still arm at an elbow angle. */
export function holdFilm(seconds: number, elbowFlexionDeg = 90, seed = 7, rateHz = 30): PoseFrame[] {
  const network = new SyntheticNetwork({ noise: NETWORK_NOISE, seed });
  return network.film(() => ({ ...STANDING, elbowFlexionDeg }), seconds, rateHz);
}

/** A record of sets of which only the frames are given. */
export function recordOf(sets: readonly PoseFrame[][], header = sampleHeader()): SessionRecord {
  return {
    ...header,
    sets: sets.map((frames, index) => {
      const startedAt = `2026-03-02T18:1${index}:00.000+01:00`;
      const { findings } = measureAndJudge(frames, header.settings, header.thresholds);
      const answers = openAnswers({ startedAt, painBefore: 2 }, findings);
      return {
        ...findings,
        startedAt,
        cutOff: true,
        answers,
        cues: [],
        pauses: [],
        tile: null,
        frames: encodeFrames(frames),
      };
    }),
  };
}
