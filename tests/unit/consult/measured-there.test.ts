import { afterAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { measuredAt } from '../../../src/core/consult/measured-at.ts';
import type { Consent, Prescription } from '../../../src/core/consult/messages.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { isMeasured, notMeasured } from '../../../src/core/kinematics/measured.ts';
import { NETWORK_NOISE, STANDING, SyntheticNetwork } from '../../helpers/synthetic-body.ts';
import { consultSides } from '../../helpers/consult-sides.ts';
import { MemoryLine } from '../../helpers/memory-line.ts';

/** Both sides of a consult as they are, one after the other measuring; a stick body holds its elbow at a right angle before the camera. */
const ALL: Consent = { picture: true, measuring: true, record: true };
const ASKED: Prescription = {
  exercise: 'hold',
  side: 'left',
  variant: null,
  thresholds: { ...DEFAULT_THRESHOLDS, targetAngleDeg: 90, toleranceDeg: 10 },
  dose: null,
};
const RATE_HZ = 15;
/** A set is counted in for five seconds; the first one loads what judges. */
const PATIENCE = { timeout: 10_000 };

beforeEach(() => {
  // What the session asks of a page.
  vi.stubGlobal('document', Object.assign(new EventTarget(), { visibilityState: 'visible' }));
  vi.stubGlobal('window', new EventTarget());
});
afterAll(() => vi.unstubAllGlobals());

async function joined(consent: Consent = ALL) {
  const memory = new MemoryLine();
  const { therapist, patient, machines } = consultSides(memory);
  const inviting = therapist.line.open('inviting', 'consult-1');
  const joining = patient.line.open('joining', 'consult-1');
  const facts = await inviting.invite();
  patient.line.connect(3600);
  therapist.line.connect(30);
  await inviting.accept(await joining.join(facts));
  memory.setUp(true);
  memory.settle();
  therapist.line.sayPhrase(true);
  patient.line.sayPhrase(true);
  memory.settle();
  therapist.prescribe(ASKED);
  memory.settle();
  await patient.agree(consent);
  const network = new SyntheticNetwork({ noise: NETWORK_NOISE, seed: 3 });
  let timeSeconds = 0;
  /** Pictures of a hold reach whichever machine measures. */
  const hold = async (seconds: number, workMs = 20): Promise<void> => {
    for (let each = 0; each < seconds * RATE_HZ; each += 1) {
      timeSeconds += 1 / RATE_HZ;
      const frame = network.frame({ ...STANDING, elbowFlexionDeg: 90 }, timeSeconds);
      machines.patient.pose.give(frame, workMs);
      machines.therapist.pose.give(frame, workMs);
      memory.settle();
    }
    await settle(memory);
  };
  await vi.waitFor(
    () => expect(machines.patient.pose.isRunning).toBe(consent.picture || consent.measuring),
    PATIENCE,
  );
  memory.settle();
  return { memory, therapist, patient, machines, hold };
}

async function settle(memory: MemoryLine): Promise<void> {
  for (let each = 0; each < 5; each += 1) {
    await new Promise((resolve) => setTimeout(resolve, 1));
    memory.settle();
  }
}

async function moved(pair: Awaited<ReturnType<typeof joined>>) {
  await pair.hold(1);
  pair.therapist.measureAt('therapist');
  pair.memory.settle();
  // The picture comes from another camera track, which is measured from its beginning.
  await vi.waitFor(() => expect(pair.patient.there.stream).not.toBeNull());
  await settle(pair.memory);
  await vi.waitFor(() => expect(pair.machines.therapist.pose.isRunning).toBe(true), PATIENCE);
  await settle(pair.memory);
  return pair;
}

describe('a consult measured on the therapist’s machine', { timeout: 30_000 }, () => {
  it('is measured by one machine at a time, both sides say by which, and the figures come back', async () => {
    const { therapist, patient, machines, hold } = await moved(await joined());
    expect(machines.patient.pose.isRunning).toBe(false);
    expect([therapist.line, patient.line].map(({ course }) => measuredAt(course.lines))).toEqual([
      'therapist',
      'therapist',
    ]);
    await hold(2);
    const measured = patient.there.latest?.elbowFlexionDeg ?? notMeasured('nobody');
    // By its own interval: the body's landmarks have the network's errors.
    expect(isMeasured(measured) && measured.low <= 90 && measured.high >= 90).toBe(true);
    expect(therapist.trace.length).toBeGreaterThan(RATE_HZ);
    expect(therapist.line.refusals.latest ?? patient.line.refusals.latest).toBeNull();
  });

  it('counts a hold whose clock and cues are on the patient’s side, and both keep the same record', async () => {
    const { memory, therapist, patient, machines, hold } = await moved(await joined());
    await hold(1);
    therapist.startSet(null);
    await vi.waitFor(() => expect(therapist.here.live.stage).toBe('measuring'), PATIENCE);
    await hold(10);
    expect(patient.there.latest?.inRangeSeconds).toBeGreaterThan(8);
    expect(machines.patient.said.length).toBeGreaterThan(0);
    expect(machines.therapist.said).toEqual([]);
    patient.endSet();
    memory.settle();
    await vi.waitFor(() => {
      memory.settle();
      expect(patient.line.course.lines.map(({ entry }) => entry.content.what)).toContain('set-ended');
    });
    expect(patient.line.course.lines).toEqual(therapist.line.course.lines);
    therapist.askPain();
    memory.settle();
    patient.answerPain(2);
    memory.settle();
    patient.stopEverything();
    await vi.waitFor(
      () => {
        memory.settle();
        expect([patient.taking.state.kind, therapist.here.sending.state.kind]).toEqual(['kept', 'kept']);
        expect(patient.sessionId).toBe(therapist.sessionId);
      },
      { timeout: 8_000 },
    );
    const id = therapist.sessionId ?? '';
    const [here, there] = [
      await machines.therapist.sessions.loadSession(id),
      await machines.patient.sessions.loadSession(id),
    ];
    expect(here.ok && JSON.stringify(here.value)).toBe(there.ok && JSON.stringify(there.value));
    expect(here.ok && here.value.sets[0]?.answers.painAfter).toBe(2);
    expect(here.ok && here.value.source.label).toContain('received');
  });

  it('is not done without the picture or the record, nor in the middle of a set, and the answer says so', async () => {
    const without = await joined({ picture: true, measuring: true, record: false });
    await without.hold(1);
    without.therapist.measureAt('therapist');
    await settle(without.memory);
    expect(measuredAt(without.therapist.line.course.lines)).toBe('patient');
    expect(without.patient.line.course.lines.at(-1)?.entry.content).toEqual({
      what: 'measured-at',
      at: 'patient',
    });
    const { memory, therapist, patient, machines, hold } = await joined();
    await hold(1);
    therapist.startSet(null);
    memory.settle();
    await vi.waitFor(() => expect(patient.live.stage).toBe('measuring'), PATIENCE);
    await hold(1);
    therapist.measureAt('therapist');
    await settle(memory);
    expect(measuredAt(patient.line.course.lines)).toBe('patient');
    expect(machines.patient.pose.isRunning).toBe(true);
  });

  it('ends a set with the line, and both are told what was not measured', async () => {
    const { memory, therapist, patient, hold } = await moved(await joined());
    await hold(1);
    therapist.startSet(null);
    await vi.waitFor(() => expect(therapist.here.live.stage).toBe('measuring'), PATIENCE);
    await hold(3);
    memory.setUp(false);
    await vi.waitFor(() => expect(therapist.here.live.stage).toBe('watching'), PATIENCE);
    expect(patient.there.latest).toBeNull();
    memory.setUp(true);
    memory.settle();
    await settle(memory);
    const said = patient.line.course.lines.map(({ entry }) => entry.content);
    expect(said).toContainEqual(expect.objectContaining({ what: 'set-ended', setNumber: 1 }));
    expect(said).toContainEqual({
      what: 'note',
      words: 'The line broke: this set was measured until then, and not after it',
    });
    expect(patient.line.course.lines).toEqual(therapist.line.course.lines);
  });

  it('goes back to the patient’s machine when what it needs is taken back, and figures that come still change nothing', async () => {
    const { memory, therapist, patient, machines, hold } = await moved(await joined());
    await hold(1);
    await patient.agree({ ...ALL, record: false });
    await hold(1);
    await vi.waitFor(() => {
      memory.settle();
      expect([machines.therapist.pose.isRunning, machines.patient.pose.isRunning]).toEqual([false, true]);
    });
    expect([therapist.line, patient.line].map(({ course }) => measuredAt(course.lines))).toEqual([
      'patient',
      'patient',
    ]);
    expect(patient.there.latest).toBeNull();
    expect(therapist.line.refusals.latest ?? patient.line.refusals.latest).toBeNull();
  });

  it('tells of a machine that is too slow by the check of speed, between sets', async () => {
    vi.useFakeTimers({ toFake: ['performance'] });
    const { therapist, hold } = await joined();
    const slow = async (seconds: number): Promise<void> => {
      for (let each = 0; each < seconds * 4; each += 1) {
        vi.advanceTimersByTime(250);
        await hold(1 / RATE_HZ, 240);
      }
    };
    await slow(20);
    expect(therapist.shown?.isTooSlow).toBe(true);
    vi.useRealTimers();
  });
});
