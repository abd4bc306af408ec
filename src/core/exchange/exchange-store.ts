import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { sha256 } from '@noble/hashes/sha2.js';
import type { Stored } from '../stored.ts';
import type { ManifestEntry } from './manifest.ts';
import { fileOf, itemId, type PackageItem } from './package-items.ts';
import type { KeyPair } from './sealing.ts';

/** Something that came under the name of something else that is kept; both are kept. */
export interface KeptBeside {
  /** What it is, of what, and what is in it: the same content that comes again is the same. */
  readonly key: string;
  readonly entry: ManifestEntry;
  readonly content: Blob;
  /** The plan that it belongs to, or the session. */
  readonly ownerId: string;
  readonly fileName: string;
  /** Moment with offset. */
  readonly cameAt: string;
}

/** Keeps the therapist's key pairs, and what came beside something else of the same name. Nothing rejects. */
export interface ExchangeStore {
  keyPairs(): Promise<Stored<readonly KeyPair[]>>;
  keepKeyPair(pair: KeyPair): Promise<Stored<null>>;
  removeKeyPair(publicKey: string): Promise<Stored<null>>;
  /** The same again changes nothing. */
  keepBeside(row: KeptBeside): Promise<Stored<null>>;
  listBeside(): Promise<Stored<readonly KeptBeside[]>>;
  removeBeside(key: string): Promise<Stored<null>>;
}

/** So much of a video tells it from another of the same length. */
const VIDEO_BYTES = 1_000_000;

/** An item as it is kept beside another of its name. */
export async function besideOf(item: PackageItem, fileName: string, cameAt: string): Promise<KeptBeside> {
  const { entry, content } = fileOf(item);
  const part = new Uint8Array(
    await content.slice(0, item.kind === 'video' ? VIDEO_BYTES : undefined).arrayBuffer(),
  );
  const digest = bytesToHex(
    sha256
      .create()
      .update(utf8ToBytes(`${content.size} `))
      .update(part)
      .digest(),
  );
  const key = `${item.kind}:${itemId(item)}:${digest}`;
  return { key, entry, content, ownerId: ownerIdOf(item), fileName, cameAt };
}

/** The plan that an item belongs to, or the session. */
function ownerIdOf(item: PackageItem): string {
  switch (item.kind) {
    case 'plan':
      return item.plan.id;
    case 'decision':
      return item.decision.planId;
    case 'day':
      return item.day.planId;
    case 'record':
      return item.record.id;
    case 'review':
      return item.review.sessionId;
    case 'video':
      return item.video.sessionId;
  }
}
