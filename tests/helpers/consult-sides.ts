import { packParcel, unpackParcel } from '../../src/adapters/consult/pack-parcel.ts';
import { MemoryExchangeStore } from '../../src/adapters/storage/memory-exchange-store.ts';
import { MemoryPlanStore } from '../../src/adapters/storage/memory-plan-store.ts';
import { MemoryReviewStore } from '../../src/adapters/storage/memory-review-store.ts';
import { MemorySessionStore } from '../../src/adapters/storage/memory-session-store.ts';
import type { Stores } from '../../src/core/exchange/take-item.ts';
import type { Announcer } from '../../src/core/feedback/announcer.ts';
import type { PoseService } from '../../src/core/pose/pose-service.ts';
import type { PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { judgeHere } from '../../src/core/session/set-judge.ts';
import { ConsultPatient } from '../../src/state/consult-patient.svelte.ts';
import { ConsultTherapist } from '../../src/state/consult-therapist.svelte.ts';
import type { LiveParts } from '../../src/state/live-parts.ts';
import { LiveSession } from '../../src/state/live-session.svelte.ts';
import { receivedSession } from '../../src/state/received-session.ts';
import { Settings } from '../../src/state/settings.svelte.ts';
import { memorySource, memoryStream } from './memory-media.ts';
import type { MemoryLine } from './memory-line.ts';
import { MemoryServer } from './memory-server.ts';

const nowSeconds = (): number => performance.now() / 1000;
const moment = (): string => '2026-03-02T18:05:09.250+01:00';

/** The pose service of a machine, given its pictures by hand: what stands for camera, network and worker. */
class HandPose implements PoseService {
  readonly identity: PoseService['identity'] = {
    model: 'blazepose-lite',
    runtime: 'none',
    modelSha256s: ['ab'.repeat(32)],
  };
  readonly backend = 'cpu';
  /** Live sources that were begun. */
  begun = 0;
  #take: Parameters<PoseService['run']>[2] | null = null;

  run: PoseService['run'] = (source, _options, take) => {
    this.begun += 1;
    this.#take = take;
    return new Promise((resolve) => {
      source.stopping.addEventListener('abort', () => {
        if (this.#take === take) this.#take = null;
        resolve({ kind: 'stopped' });
      });
    });
  };

  /** True while a source runs. */
  get isRunning(): boolean {
    return this.#take !== null;
  }

  /** Gives a picture. workMs: what this machine needs for one. */
  give(frame: PoseFrame, workMs: number): void {
    const timing = { workMs, networkMs: workMs, latencyMs: workMs, dropped: 0 };
    this.#take?.({ frame, picture: null, timing });
  }

  pace = (): void => undefined;
  change = (): Promise<void> => Promise.resolve();
  dispose = (): void => undefined;
}

/** One machine: its pose service, its stores, what it said aloud. */
class Machine {
  readonly pose = new HandPose();
  readonly said: string[] = [];
  readonly stores: Stores;
  readonly sessions = new MemorySessionStore();
  readonly live: LiveParts;

  constructor(clockSeconds: () => number) {
    this.stores = {
      sessions: this.sessions,
      plans: new MemoryPlanStore(),
      reviews: new MemoryReviewStore(),
      videos: null,
      exchange: new MemoryExchangeStore(),
    };
    const announcer: Announcer = {
      isSpeaking: false,
      say: (words) => {
        this.said.push(words);
        return true;
      },
      tone: () => undefined,
      voices: () => [],
      onVoices: () => undefined,
      quiet: () => undefined,
    };
    this.live = {
      loadService: () => Promise.resolve(this.pose),
      sources: {
        demoClips: () => Promise.resolve([]),
        cameras: () => Promise.resolve([]),
        openCamera: () => Promise.resolve({ ok: true, source: memorySource(memoryStream(), 'camera') }),
        openSharedWindow: () => Promise.resolve({ ok: false, problem: 'sharing-refused' }),
        openClip: () => Promise.resolve({ ok: false, problem: 'clip-empty' }),
        openDemo: () => Promise.resolve({ ok: false, problem: 'clip-empty' }),
      },
      store: this.sessions,
      judge: judgeHere,
      announcer,
      software: { name: 'Forearmed', version: '0' },
      nowSeconds: clockSeconds,
      moment,
      newId: () => crypto.randomUUID(),
      health: { longestPauseMs: () => null, memoryBytes: () => null },
      openFigureSurface: () => null,
      videos: null,
      keepAwake: () => undefined,
    };
  }
}

/** Both sides of a consult as they are, over a line, stores and pose services in memory. The page's own parts must be there: see stubPage. */
export function consultSides(memory: MemoryLine) {
  const machines = { therapist: new Machine(nowSeconds), patient: new Machine(nowSeconds) };
  let ids = 0;
  const partsOf = (machine: Machine, fingerprint: string) => ({
    openLink: memory.side(fingerprint),
    meetings: new MemoryServer(),
    left: { list: () => [], save: () => undefined, forget: () => undefined },
    tickets: { load: () => null, save: () => undefined },
    openFaceAndVoice: () => Promise.resolve({ ok: false, problem: 'no-camera' } as const),
    packing: { pack: packParcel, unpack: unpackParcel },
    loadStores: () => Promise.resolve(machine.stores),
    plans: machine.stores.plans,
    hasVoice: () => true,
    nowSeconds,
    moment,
    newId: () => crypto.randomUUID(),
    newNonce: () => (++ids).toString(16).padStart(64, '0'),
  });
  const settings = new Settings({ read: () => ({ voice: true, countInSeconds: 0 }), write: () => undefined });
  const received = receivedSession(
    machines.therapist.live,
    () => ({ ok: true, source: memorySource(memoryStream(), 'shared-window') }),
    (parts, chosen) => new LiveSession(parts, new Settings(chosen)),
  );
  const therapist = new ConsultTherapist({ ...partsOf(machines.therapist, 'aa'.repeat(32)), received });
  const patient = new ConsultPatient({
    ...partsOf(machines.patient, 'bb'.repeat(32)),
    live: new LiveSession(machines.patient.live, settings),
    settings,
    announcer: machines.patient.live.announcer,
    openOwnPictures: () => null,
    openCamera: machines.patient.live.sources.openCamera,
  });
  return { therapist, patient, machines };
}
