import { afterEach, describe, expect, it } from 'vitest';
import { CONSULT_LIMITS } from '../../../src/core/consult/limits.ts';
import type { ConsultSide, EntryContent, LiveMessage } from '../../../src/core/consult/messages.ts';
import type { PeerLink } from '../../../src/core/consult/peer-link.ts';
import { ConsultLine } from '../../../src/state/consult-line.svelte.ts';
import { LIVE } from '../../helpers/consult-samples.ts';
import { MemoryLine } from '../../helpers/memory-line.ts';

/** Both sides' lines as they are, over a line in memory and clocks that are set by hand. */
const clock = { seconds: 1000 };
const opened: ConsultLine[] = [];
let ids = 0;

class Side {
  readonly entries: { readonly content: EntryContent; readonly isDue: boolean }[] = [];
  readonly live: LiveMessage[] = [];
  readonly line: ConsultLine;
  readonly open: (consult: string) => PeerLink;

  constructor(side: ConsultSide, memory: MemoryLine, fingerprint: string, clockAheadSeconds: number) {
    const parts = {
      openLink: memory.side(fingerprint),
      hasVoice: () => true,
      nowSeconds: () => clock.seconds + clockAheadSeconds,
      moment: () => '2026-03-02T18:05:09.250+01:00',
      newId: () => `page-${String(++ids)}`,
      newNonce: () => (++ids).toString(16).padStart(64, '0'),
    };
    this.line = new ConsultLine(side, parts, {
      onEntry: (content, isDue) => this.entries.push({ content, isDue }),
      onLive: (message) => this.live.push(message),
      onOtherMedia: () => undefined,
      onBroken: () => undefined,
      onJoined: () => undefined,
      onParcel: () => null,
      onParcelKept: () => undefined,
      onEnd: () => Promise.resolve(),
      onGone: () => undefined,
    });
    opened.push(this.line);
    this.open = (consult) => this.line.open(side === 'therapist' ? 'inviting' : 'joining', consult);
  }
}

function sides(memory = new MemoryLine()) {
  const therapist = new Side('therapist', memory, 'aa'.repeat(32), 0);
  const patient = new Side('patient', memory, 'bb'.repeat(32), 500);
  return { memory, therapist, patient };
}

async function linkUp({ memory, therapist, patient }: ReturnType<typeof sides>): Promise<PeerLink> {
  const inviting = therapist.open('consult-1');
  const joining = patient.open('consult-1');
  const facts = await inviting.invite();
  patient.line.connect(3600);
  therapist.line.connect(30);
  await inviting.accept(await joining.join(facts));
  // The joining side hears that the line is up only now.
  memory.setUp(true);
  memory.settle();
  return joining;
}

async function join(pair: ReturnType<typeof sides>): Promise<PeerLink> {
  const joining = await linkUp(pair);
  pair.therapist.line.sayPhrase(true);
  pair.patient.line.sayPhrase(true);
  pair.memory.settle();
  return joining;
}

const stages = ({ therapist, patient }: ReturnType<typeof sides>) => [
  therapist.line.state.stage,
  patient.line.state.stage,
];
const NOTE = { what: 'note', words: 'Elbow drifts' } as const;
const CUE = { what: 'cue', cueId: 1, cue: 'breathe', words: 'Breathe' } as const;

afterEach(() => {
  for (const line of opened.splice(0)) line.close();
});

describe('two sides of a consult', () => {
  it('are joined when both have said that the words are the same, which they are', async () => {
    const pair = sides();
    await linkUp(pair);
    expect(stages(pair)).toEqual(['checking', 'checking']);
    expect(pair.therapist.line.phrase.words).toHaveLength(3);
    expect(pair.patient.line.phrase.words).toEqual(pair.therapist.line.phrase.words);
    pair.patient.line.sayPhrase(true);
    pair.memory.settle();
    expect(stages(pair)).toEqual(['checking', 'checking']);
    pair.therapist.line.sayPhrase(true);
    pair.memory.settle();
    expect(stages(pair)).toEqual(['joined', 'joined']);
    expect([pair.therapist.line.refusals.latest, pair.patient.line.refusals.latest]).toEqual([null, null]);
  });

  it('end when one says that the words differ', async () => {
    const pair = sides();
    await linkUp(pair);
    pair.therapist.line.sayPhrase(false);
    pair.memory.settle();
    expect(pair.therapist.line.state).toEqual({ stage: 'ended', why: 'phrase-differs' });
    expect(pair.patient.line.state).toEqual({ stage: 'ended', why: 'phrase-differs' });
  });

  it('know how old a figure is, although their clocks are 500 s apart', async () => {
    const pair = sides();
    await join(pair);
    pair.patient.line.sendLive(LIVE);
    clock.seconds += 0.25;
    pair.memory.settle();
    const [message] = pair.therapist.live;
    if (message === undefined) throw new Error('nothing came');
    expect(message).toMatchObject({ timeSeconds: LIVE.timeSeconds, elbowFlexionDeg: LIVE.elbowFlexionDeg });
    expect(pair.therapist.line.clock.ageMs(message.measuredMs)).toBeCloseTo(250, 3);
  });

  it('have the same course after a gap in which both went on, and what is late is not done', async () => {
    const pair = sides();
    await join(pair);
    const { memory, therapist, patient } = pair;
    therapist.line.add(CUE);
    memory.settle();
    expect(patient.entries).toEqual([{ content: CUE, isDue: true }]);
    // What is on the way is lost; what is added in the gap waits.
    therapist.line.add({ ...CUE, cueId: 2 });
    patient.line.add({ what: 'set-begun', setNumber: 1 });
    memory.setUp(false);
    expect(stages(pair)).toEqual(['broken', 'broken']);
    therapist.line.add({ what: 'set-asked', action: 'stop', name: null });
    patient.line.add({ what: 'pain-answered', pain: 2 });
    clock.seconds += 20;
    memory.setUp(true);
    memory.settle();
    expect(stages(pair)).toEqual(['joined', 'joined']);
    expect(patient.entries.slice(1)).toEqual([
      { content: { ...CUE, cueId: 2 }, isDue: false },
      { content: { what: 'set-asked', action: 'stop', name: null }, isDue: true },
    ]);
    expect(therapist.line.course.lines).toHaveLength(5);
    expect(patient.line.course.lines).toEqual(therapist.line.course.lines);
  });

  it('go on in a new link after one that broke for good', async () => {
    const pair = sides();
    await join(pair);
    pair.patient.line.add({ what: 'set-begun', setNumber: 1 });
    pair.memory.setUp(false);
    pair.therapist.line.add(NOTE);
    await join(pair);
    expect(stages(pair)).toEqual(['joined', 'joined']);
    expect(pair.therapist.line.course.lines).toHaveLength(2);
    expect(pair.patient.line.course.lines).toEqual(pair.therapist.line.course.lines);
    expect([pair.therapist.line.refusals.latest, pair.patient.line.refusals.latest]).toEqual([null, null]);
  });

  it('go on when a page was loaded again: the other side keeps what there was', async () => {
    const pair = sides();
    await join(pair);
    pair.patient.line.add({ what: 'set-begun', setNumber: 1 });
    pair.memory.settle();
    pair.patient.line.close();
    pair.memory.setUp(false);
    const again = { ...pair, patient: new Side('patient', pair.memory, 'cc'.repeat(32), -30) };
    await join(again);
    again.therapist.line.add(NOTE);
    pair.memory.settle();
    expect(again.patient.entries).toEqual([{ content: NOTE, isDue: true }]);
    expect(again.therapist.line.course.lines.map(({ entry }) => entry.content.what)).toEqual([
      'set-begun',
      'note',
    ]);
    expect([again.therapist.line.refusals.latest, again.patient.line.refusals.latest]).toEqual([null, null]);
  });

  it('come together again in a link that only they could make, without comparing words again', async () => {
    const pair = sides();
    await join(pair);
    const { memory, therapist, patient } = pair;
    patient.line.add({ what: 'set-begun', setNumber: 1 });
    memory.settle();
    memory.setUp(false);
    patient.line.add({ what: 'pain-answered', pain: 2 });
    therapist.line.add(NOTE);
    const inviting = therapist.line.reopen('inviting', 'consult-1');
    const joining = patient.line.reopen('joining', 'consult-1');
    await inviting.accept(await joining.join(await inviting.invite()));
    // Not before the other side has greeted: what it had is not known.
    expect(stages(pair)).toEqual(['broken', 'broken']);
    memory.setUp(true);
    memory.settle();
    expect(stages(pair)).toEqual(['joined', 'joined']);
    expect(therapist.line.course.lines).toHaveLength(3);
    expect(patient.line.course.lines).toEqual(therapist.line.course.lines);
    expect([therapist.line.refusals.latest, patient.line.refusals.latest]).toEqual([null, null]);
  });

  it('wait for the other side as long as it takes, and end at once when one of them ends', async () => {
    const pair = sides();
    await join(pair);
    pair.memory.setUp(false);
    pair.patient.line.reopen('joining', 'consult-1');
    clock.seconds += 7_200;
    expect(pair.patient.line.state.stage).toBe('broken');
    expect(pair.patient.line.wasJoined).toBe(true);
    pair.patient.line.end();
    expect(pair.patient.line.state).toEqual({ stage: 'ended', why: 'here' });
    pair.patient.line.reopen('joining', 'consult-1');
    expect(pair.patient.line.state.stage).toBe('ended');
  });

  it('end for both when one ends', async () => {
    const pair = sides();
    await join(pair);
    pair.patient.line.end();
    pair.memory.settle();
    expect(pair.patient.line.state).toEqual({ stage: 'ended', why: 'here' });
    expect(pair.therapist.line.state).toEqual({ stage: 'ended', why: 'there' });
  });
});

describe('a hostile other side', () => {
  it('is refused with a sentence each time, changes nothing, and ends the link at last', async () => {
    const pair = sides();
    const joining = await join(pair);
    const { memory, therapist } = pair;
    const entry = { kind: 'entry', seen: 0, madeMs: 0, at: '2026-03-02T18:05:09Z' };
    const evil = [
      '',
      '{"kind":"erase"}',
      JSON.stringify({ ...entry, number: 1, content: CUE }),
      JSON.stringify({ ...entry, number: 9, content: { what: 'pain-answered', pain: 1 } }),
      JSON.stringify({ kind: 'received', received: 7 }),
      JSON.stringify({ kind: 'nonce', nonce: 'ff'.repeat(32) }),
      JSON.stringify({ kind: 'commitment', commitment: 'ff'.repeat(32) }),
    ];
    for (const text of evil) {
      joining.send('record', text);
      memory.settle();
      expect(therapist.line.refusals.latest).toMatch(/left out\.$/);
    }
    expect(therapist.entries).toEqual([]);
    expect(therapist.line.state.stage).toBe('joined');
    for (let more = evil.length; more < CONSULT_LIMITS.refusals; more++) joining.send('live', '{}');
    memory.settle();
    expect(therapist.line.state).toEqual({ stage: 'ended', why: 'hostile' });
  });

  it('is not heard before the phrase is answered', async () => {
    const pair = sides();
    const joining = await linkUp(pair);
    joining.send('live', JSON.stringify(LIVE));
    joining.send('record', JSON.stringify({ kind: 'media', type: 'answer', sdp: 'v=0' }));
    pair.memory.settle();
    expect(pair.therapist.live).toEqual([]);
    expect(pair.therapist.line.refusals.latest).toMatch(/before the check phrase/);
  });
});
