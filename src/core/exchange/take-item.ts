import type { PlanStore } from '../plan/plan-store.ts';
import type { ReviewStore } from '../review/review-store.ts';
import type { SessionStore } from '../session/session-store.ts';
import type { VideoStore } from '../session/video-store.ts';
import type { Stored } from '../stored.ts';
import { besideOf, type ExchangeStore } from './exchange-store.ts';
import type { ItemKind } from './manifest.ts';
import type { PackageItem } from './package-items.ts';
import { standingOf } from './standing.ts';
import { takePlan, type Arrival } from './waiting-plans.ts';

/** Where everything that belongs to people is kept. */
export interface Stores {
  readonly sessions: Pick<
    SessionStore,
    'loadSession' | 'importRecord' | 'renewRecord' | 'deleteSession' | 'listSessions' | 'finishSession'
  >;
  readonly plans: PlanStore;
  readonly reviews: ReviewStore;
  /** Null where nothing lasts: a video is not kept in memory. */
  readonly videos: VideoStore | null;
  readonly exchange: ExchangeStore;
}

/**
 * What became of an item. waits: a newer version of a plan, until somebody puts it in force. not-kept: this browser keeps no
 * videos.
 */
export type Taken = 'new' | 'same' | 'renewed' | 'waits' | 'beside' | 'not-kept';

/**
 * Keeps one item of a package. What is kept already is never lost: the same changes nothing, a later state takes the place
 * of an earlier one, and another content under the same name is kept beside.
 */
export async function takeItem(item: PackageItem, arrival: Arrival, stores: Stores): Promise<Stored<Taken>> {
  if (item.kind === 'video' && stores.videos === null) return { ok: true, value: 'not-kept' };
  if (item.kind === 'plan') return takePlan(item.plan, arrival, stores);
  const kept = await keptItem(item, stores);
  if (!kept.ok && kept.problem === 'missing') return tell(await keepLater(item, stores), 'new');
  if (!kept.ok && kept.problem !== 'unreadable') return kept;
  const standing = kept.ok ? standingOf(kept.value, item) : 'other';
  if (standing === 'same' || standing === 'earlier') return { ok: true, value: 'same' };
  if (standing === 'later') return tell(await renew(item, stores), 'renewed');
  const beside = await besideOf(item, arrival.fileName, arrival.cameAt);
  return tell(await stores.exchange.keepBeside(beside), 'beside');
}

function tell(stored: Stored<unknown>, taken: Taken): Stored<Taken> {
  return stored.ok ? { ok: true, value: taken } : stored;
}

const MISSING = { ok: false, problem: 'missing', detail: '' } as const;

/** What is kept under the name of an item. */
async function keptItem(item: PackageItem, stores: Stores): Promise<Stored<PackageItem>> {
  switch (item.kind) {
    case 'plan': {
      const { id, version } = item.plan;
      const kept = await stores.plans.loadVersion(id, version);
      return kept.ok ? { ok: true, value: { kind: 'plan', plan: kept.value } } : kept;
    }
    case 'day': {
      const kept = await stores.plans.loadDay(item.day.id);
      return kept.ok ? { ok: true, value: { kind: 'day', day: kept.value } } : kept;
    }
    case 'decision': {
      const kept = await stores.plans.listDecisions(item.decision.planId);
      if (!kept.ok) return kept;
      const decision = kept.value.items.find(({ id }) => id === item.decision.id);
      return decision === undefined ? MISSING : { ok: true, value: { kind: 'decision', decision } };
    }
    case 'record': {
      const kept = await stores.sessions.loadSession(item.record.id);
      return kept.ok ? { ok: true, value: { kind: 'record', record: kept.value } } : kept;
    }
    case 'review': {
      const kept = await stores.reviews.reviewsOf(item.review.sessionId);
      if (!kept.ok) return kept;
      const review = kept.value.items.find(({ id }) => id === item.review.id);
      return review === undefined ? MISSING : { ok: true, value: { kind: 'review', review } };
    }
    case 'video': {
      const { sessionId, setIndex } = item.video;
      const kept = await stores.videos?.listVideos(sessionId);
      if (kept === undefined || !kept.ok) return kept ?? MISSING;
      const video = kept.value.find((each) => each.setIndex === setIndex);
      return video === undefined
        ? MISSING
        : { ok: true, value: { kind: 'video', video, content: item.content } };
    }
  }
}

/** Keeps an item that came; a later state of a day that came meanwhile stays. */
function keepLater(item: PackageItem, stores: Stores): Promise<Stored<unknown>> {
  return item.kind === 'day' ? stores.plans.mergeDay(item.day) : keep(item, stores);
}

/** Puts a later state in the place of an earlier one. */
function renew(item: PackageItem, stores: Stores): Promise<Stored<unknown>> {
  return item.kind === 'record' ? stores.sessions.renewRecord(item.record) : keepLater(item, stores);
}

async function keep(item: PackageItem, stores: Stores): Promise<Stored<null>> {
  switch (item.kind) {
    case 'plan':
      return stores.plans.keepVersion(item.plan);
    case 'day':
      return stores.plans.putDay(item.day);
    case 'decision':
      return stores.plans.putDecision(item.decision);
    case 'record':
      return stores.sessions.importRecord(item.record);
    case 'review':
      return stores.reviews.keepReview(item.review);
    case 'video':
      return stores.videos === null ? MISSING : keepVideo(item, stores.videos);
  }
}

/** Bytes of a video that are written at once. */
const CHUNK_BYTES = 1_000_000;

async function keepVideo(
  { video, content }: Extract<PackageItem, { kind: 'video' }>,
  videos: VideoStore,
): Promise<Stored<null>> {
  const place = { sessionId: video.sessionId, setIndex: video.setIndex };
  let stored = await videos.beginVideo(place, { mimeType: video.mimeType, startSeconds: video.startSeconds });
  for (let chunk = 0; stored.ok && chunk * CHUNK_BYTES < content.size; chunk += 1) {
    const bytes = await content.slice(chunk * CHUNK_BYTES, (chunk + 1) * CHUNK_BYTES).arrayBuffer();
    stored = await videos.appendChunk(place, chunk, bytes);
  }
  return stored.ok ? videos.endVideo(place) : stored;
}

/** Whether an item can take the place of what is kept under its name: versions of a plan and reviews never change. */
export function canTakePlace(kind: ItemKind): boolean {
  return kind === 'record' || kind === 'day' || kind === 'decision';
}

/**
 * Puts an item that was kept beside in the place of what is kept under its name, which is then kept beside. Nothing is
 * deleted before the other is kept.
 */
export async function exchangeItem(
  item: PackageItem,
  key: string,
  arrival: Pick<Arrival, 'fileName' | 'cameAt'>,
  stores: Stores,
): Promise<Stored<null>> {
  if (!canTakePlace(item.kind)) throw new Error(`exchangeItem: a ${item.kind} never changes.`);
  const kept = await keptItem(item, stores);
  if (!kept.ok && kept.problem !== 'missing') return kept;
  if (kept.ok) {
    const beside = await besideOf(kept.value, arrival.fileName, arrival.cameAt);
    const stored = await stores.exchange.keepBeside(beside);
    if (!stored.ok) return stored;
    const gone = item.kind === 'record' ? await stores.sessions.deleteSession(item.record.id) : stored;
    if (!gone.ok) return gone;
  }
  const placed = await keep(item, stores);
  return placed.ok ? stores.exchange.removeBeside(key) : placed;
}
