import { parseGuarded } from '../documents/guarded-text.ts';
import type { Reading } from '../documents/read-document.ts';
import { decisionSchema, type Decision } from '../plan/decision.ts';
import type { Plan } from '../plan/plan.ts';
import { readDayValue, readPlanValue, type PlanProblem } from '../plan/read-plan.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import { readReviewValue } from '../review/read-review.ts';
import type { ReviewDocument } from '../review/review-document.ts';
import { readRecordValue } from '../session/migrations.ts';
import type { SessionRecord } from '../session/session-record.ts';
import type { KeptVideo } from '../session/video-store.ts';
import { PACKAGE_LIMITS } from './limits.ts';
import type { ItemKind, ManifestEntry } from './manifest.ts';

/** A document that a package carries. */
export type DocumentItem =
  | { readonly kind: 'plan'; readonly plan: Plan }
  | { readonly kind: 'decision'; readonly decision: Decision }
  | { readonly kind: 'day'; readonly day: TrainingDay }
  | { readonly kind: 'record'; readonly record: SessionRecord }
  | { readonly kind: 'review'; readonly review: ReviewDocument };

/** A video that a package carries. */
interface VideoItem {
  readonly kind: 'video';
  readonly video: KeptVideo;
  readonly content: Blob;
}

/** Anything that is taken in out of a package. */
export type PackageItem = DocumentItem | VideoItem;

/** A file of a package before it is packed. */
export interface PackageFile {
  readonly entry: ManifestEntry;
  readonly content: Blob;
}

/** The file of an item. */
export function fileOf(item: PackageItem): PackageFile {
  const content = item.kind === 'video' ? item.content : new Blob([JSON.stringify(documentOf(item))]);
  const video = item.kind === 'video' ? { ...item.video, bytes: content.size } : null;
  return { entry: { path: pathOf(item), kind: item.kind, bytes: content.size, video }, content };
}

/** A table for a spreadsheet, which is never read back. name: a file name. */
export function tableFile(name: string, csv: string): PackageFile {
  const content = new Blob([csv]);
  return { entry: { path: `tables/${name}`, kind: 'table', bytes: content.size, video: null }, content };
}

/** The document of an item. */
export function documentOf(
  item: DocumentItem,
): Plan | Decision | TrainingDay | SessionRecord | ReviewDocument {
  switch (item.kind) {
    case 'plan':
      return item.plan;
    case 'decision':
      return item.decision;
    case 'day':
      return item.day;
    case 'record':
      return item.record;
    case 'review':
      return item.review;
  }
}

/** Names what an item is, the same for another content of it. */
export function itemId(item: PackageItem): string {
  switch (item.kind) {
    case 'plan':
      return `${item.plan.id}-v${item.plan.version}`;
    case 'decision':
      return item.decision.id;
    case 'day':
      return item.day.id;
    case 'record':
      return item.record.id;
    case 'review':
      return item.review.id;
    case 'video':
      return `${item.video.sessionId}-set${item.video.setIndex + 1}`;
  }
}

const FOLDERS: Readonly<Record<Exclude<ItemKind, 'table'>, string>> = {
  plan: 'plans',
  decision: 'decisions',
  day: 'days',
  record: 'records',
  review: 'reviews',
  video: 'videos',
};

function pathOf(item: PackageItem): string {
  const ending =
    item.kind === 'video'
      ? item.video.mimeType.startsWith('video/mp4')
        ? 'mp4'
        : 'webm'
      : `${item.kind}.json`;
  return `${FOLDERS[item.kind]}/${itemId(item)}.${ending}`;
}

/** Reads a document out of its text, through the gate of its own kind. */
function readDocumentItem(kind: DocumentItem['kind'], text: string): Reading<DocumentItem, PlanProblem> {
  const parsed = parseGuarded(text, PACKAGE_LIMITS.documentBytes);
  if (!parsed.ok) return parsed;
  const { value } = parsed;
  switch (kind) {
    case 'plan': {
      const reading = readPlanValue(value);
      return reading.ok ? { ok: true, value: { kind, plan: reading.plan } } : reading;
    }
    case 'day': {
      const reading = readDayValue(value);
      return reading.ok ? { ok: true, value: { kind, day: reading.day } } : reading;
    }
    case 'record': {
      const reading = readRecordValue(value);
      return reading.ok ? { ok: true, value: { kind, record: reading.record } } : reading;
    }
    case 'review': {
      const reading = readReviewValue(value);
      return reading.ok ? { ok: true, value: { kind, review: reading.review } } : reading;
    }
    case 'decision': {
      const checked = decisionSchema.safeParse(value);
      if (checked.success) return { ok: true, value: { kind, decision: checked.data } };
      const [issue] = checked.error.issues;
      const path = issue?.path.join('.') || 'the whole decision';
      return { ok: false, problem: { kind: 'damaged', path, detail: issue?.message ?? 'unknown' } };
    }
  }
}

/** What a file of a package gives: an item, nothing for a table, or why it cannot be read. */
export type ItemReading = Reading<PackageItem | null, PlanProblem>;

/** Reads one file of a package. */
export async function readItem({ kind, video }: ManifestEntry, content: Blob): Promise<ItemReading> {
  if (kind === 'table') return { ok: true, value: null };
  if (kind !== 'video') return readDocumentItem(kind, await content.text());
  // The manifest's gate has seen to it that what is said of a video is as it must be.
  return video === null
    ? { ok: false, problem: { kind: 'not-ours' } }
    : { ok: true, value: { kind, video, content } };
}
