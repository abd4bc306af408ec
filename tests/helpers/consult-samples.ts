import { DEFAULT_THRESHOLDS } from '../../src/core/exercises/thresholds.ts';
import type { EntryContent, LiveMessage, RecordMessage } from '../../src/core/consult/messages.ts';

const HASH = 'ab'.repeat(32);

/** One good content of each kind of entry. */
export const CONTENTS: readonly EntryContent[] = [
  { what: 'consent', consent: { picture: true, measuring: false, record: true } },
  {
    what: 'prescription',
    prescription: {
      exercise: 'hold',
      side: 'right',
      variant: null,
      thresholds: { ...DEFAULT_THRESHOLDS, targetAngleDeg: 85 },
      dose: '5 sets of 45 s',
    },
  },
  { what: 'set-asked', action: 'start', name: 'First, easy' },
  { what: 'set-asked', action: 'stop', name: null },
  { what: 'set-begun', setNumber: 1 },
  {
    what: 'set-ended',
    setNumber: 1,
    inRangeSeconds: 20.5,
    repetitions: 0,
    partialRepetitions: 0,
    loweringSeconds: null,
    parts: 1,
  },
  { what: 'cue', cueId: 1, cue: 'breathe', words: 'Breathe' },
  { what: 'cue', cueId: 2, cue: null, words: 'Slower' },
  { what: 'cue-heard', cueId: 1, by: 'voice' },
  { what: 'pain-asked' },
  { what: 'pain-answered', pain: 3 },
  { what: 'note', words: 'Elbow drifts after 15 s' },
  { what: 'measuring-asked', at: 'therapist' },
  { what: 'measured-at', at: 'patient' },
  {
    what: 'picture-frozen',
    pictureId: 1,
    capturedMs: 4640.5,
    widthPx: 640,
    heightPx: 480,
    joints: {
      shoulder: { x: 300, y: 100, certainty: 'measured' },
      elbow: { x: 310, y: 165, certainty: 'measured' },
      wrist: { x: 370, y: 160, certainty: 'uncertain' },
      hip: null,
    },
  },
  {
    what: 'picture-drawn',
    pictureId: 1,
    shape: { kind: 'arrow', from: { x: 40, y: 50 }, to: { x: 312, y: 160 } },
    words: 'Arrow to the elbow',
  },
  { what: 'picture-cleared', pictureId: 1 },
  { what: 'picture-noted', pictureId: 1, words: 'Here it starts to drift' },
  { what: 'picture-let-go', pictureId: 1 },
  { what: 'joint-watched', joint: 'elbow' },
  { what: 'demonstration-shown', exercise: 'band-curl', side: 'left', variant: 'turning' },
  { what: 'repetition-asked', setNumber: 1, part: 2 },
  {
    what: 'repetition-shown',
    setNumber: 1,
    part: 2,
    widthPx: 640,
    heightPx: 480,
    frames: [
      { at: 0, flexionDeg: 12.5, shoulder: [300, 100], elbow: [310, 165], wrist: [330, 230], hip: null },
      { at: 0.1, flexionDeg: null, shoulder: [300, 101], elbow: null, wrist: null, hip: null },
    ],
  },
  { what: 'showing-ended' },
];

const entry = (content: EntryContent, index: number): RecordMessage => ({
  kind: 'entry',
  number: index + 1,
  seen: 0,
  madeMs: 1234.5,
  at: '2026-03-02T18:05:09.250+01:00',
  content,
});

/** One good message of each kind of the reliable channel. */
export const MESSAGES: readonly RecordMessage[] = [
  {
    kind: 'hello',
    version: 1,
    side: 'patient',
    consultId: 'consult-1',
    pageId: 'page-1',
    capabilities: ['voice'],
    received: 0,
  },
  { kind: 'commitment', commitment: HASH },
  { kind: 'nonce', nonce: HASH },
  { kind: 'phrase', isSame: true },
  { kind: 'clock-ask', askedMs: 10 },
  { kind: 'clock-answer', askedMs: 10, receivedMs: 500, answeredMs: 501 },
  { kind: 'media', type: 'offer', sdp: 'v=0\r\n' },
  { kind: 'showing', picture: true, sound: false, left: 'none' },
  { kind: 'return-way', place: 'ab'.repeat(16), secret: HASH },
  { kind: 'received', received: 4 },
  { kind: 'parcel-kept', number: 2, isKept: true },
  { kind: 'goodbye' },
  ...CONTENTS.map(entry),
];

/** A good message of the live channel. */
export const LIVE: LiveMessage = {
  kind: 'live',
  number: 7,
  timeSeconds: 12.033,
  measuredMs: 4711.25,
  capturedMs: 4640.5,
  widthPx: 1280,
  heightPx: 720,
  exercise: 'hold',
  elbowFlexionDeg: { value: 91.2, low: 88, high: 94.4 },
  reason: null,
  phase: 'in-range',
  isReady: false,
  isInSet: true,
  cue: { name: 'breathe', words: 'Breathe', spoken: 'Keep breathing' },
  isTooSlow: false,
  joints: {
    shoulder: { x: 600, y: 200, certainty: 'measured' },
    elbow: { x: 620, y: 330, certainty: 'measured' },
    wrist: { x: 740, y: 320, certainty: 'uncertain' },
    hip: null,
  },
  inRangeSeconds: 3.4,
  repetitions: 0,
  partialRepetitions: 0,
  loweringSeconds: null,
};
