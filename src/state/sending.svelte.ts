import {
  chosenDocuments,
  chosenSessions,
  sendsRecords,
  unsignedCount,
  type PackageChoice,
} from '../core/exchange/package-choice.ts';
import { contentsOf, type PersonContents, type Whose } from '../core/exchange/person-contents.ts';
import { fileOf, tableFile, type PackageFile } from '../core/exchange/package-items.ts';
import type { Lock, Sealing } from '../core/exchange/sealing.ts';
import type { Stores } from '../core/exchange/take-item.ts';
import type { PackageHeading } from '../core/exchange/write-package.ts';
import { holdsCsv, repetitionsCsv } from '../core/export/judgement-csv.ts';
import type { PlanListing } from '../core/plan/plan-store.ts';
import { dayOf } from '../core/plan/calendar.ts';
import { outlineOf } from '../core/session/record-opener.ts';
import type { SessionRecord } from '../core/session/session-record.ts';
import type { KeptVideo } from '../core/session/video-store.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';

/** What sending needs from outside. */
export interface SendingParts {
  readonly sealing: Sealing;
  readonly stores: Stores;
  readonly moment: () => string;
  readonly newId: () => string;
  readonly software: PackageHeading['software'];
}

const FIRST_CHOICE: PackageChoice = {
  reader: 'therapist',
  sessions: 'recent',
  withReasons: false,
  withRecords: false,
};

/** A package that is ready to be handed on. */
export interface ReadyPackage {
  readonly file: File;
  readonly lock: Lock['kind'];
}

/** Puts a package together: whose, what of it, for whom, and then the file. */
export class Sending {
  readonly #parts: SendingParts;
  #listings = $state.raw<readonly PlanListing[] | null>(null);
  #contents = $state.raw<PersonContents | null>(null);
  #choice = $state.raw<PackageChoice>(FIRST_CHOICE);
  #videos = $state.raw<readonly string[]>([]);
  #files = $state.raw<readonly PackageFile[] | null>(null);
  #share = $state<number | null>(null);
  #ready = $state.raw<ReadyPackage | null>(null);
  #problem = $state.raw<StorageProblem | null>(null);
  #round = 0;

  constructor(parts: SendingParts) {
    this.#parts = parts;
  }

  /** The plans that are kept here, the last written first; null before look(). */
  get listings(): readonly PlanListing[] | null {
    return this.#listings;
  }

  /** Everything that is kept of whoever was chosen. */
  get contents(): PersonContents | null {
    return this.#contents;
  }

  /** Who reads it, and what goes along. */
  get choice(): PackageChoice {
    return this.#choice;
  }

  /** Only what is of one plan can be for the patient: without one nothing says whose it is. */
  get canBeForPatient(): boolean {
    return this.#contents?.whose.kind === 'plan';
  }

  /** Reviews of the chosen sessions that are not signed. */
  get unsignedCount(): number {
    return this.#contents === null ? 0 : unsignedCount(this.#contents, this.#chosenSessions(this.#contents));
  }

  /** What goes into the package as things are chosen, with sizes; null while it is looked up. */
  get files(): readonly PackageFile[] | null {
    return this.#files;
  }

  /** How much of the work is done, 0 to 1; null while nothing is going on. */
  get share(): number | null {
    return this.#share;
  }

  get ready(): ReadyPackage | null {
    return this.#ready;
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** The therapist's public key, as the newest version of the plan has it; null for a package that the patient reads. */
  get therapistKey(): string | null {
    return this.#choice.reader === 'patient' ? null : (this.#contents?.plans.at(-1)?.therapistKey ?? null);
  }

  /** Whose it is, as it stands in the package. */
  get label(): string {
    const contents = this.#contents;
    if (contents?.whose.kind === 'everybody') return 'Everything on one machine';
    return contents?.plans.at(-1)?.person.label ?? 'Sessions without a plan';
  }

  /** Looks up whose things there are; chooses the plan that is named, that is followed, or the only one. */
  async look(planId: string | null): Promise<void> {
    const listed = this.#valueOf(await this.#parts.stores.plans.listPlans());
    if (listed === undefined) return;
    this.#listings = listed;
    if (planId !== null && listed.some((each) => each.planId === planId))
      return this.choose({ kind: 'plan', planId });
    const chosen = this.#contents;
    // A choice under which nothing is kept gives way to a plan that came.
    if (chosen !== null && chosen.plans.length + chosen.sessions.length > 0) return this.choose(chosen.whose);
    const first = listed.find(({ isFollowed }) => isFollowed) ?? listed[0];
    await this.choose(first === undefined ? { kind: 'no-plan' } : { kind: 'plan', planId: first.planId });
  }

  /** Chooses whose things are sent. */
  async choose(whose: Whose): Promise<void> {
    const before = this.#contents?.whose;
    const isSame = before?.kind === 'plan' && whose.kind === 'plan' && before.planId === whose.planId;
    if (!isSame) this.#choice = { ...this.#choice, ...this.#readerOf(whose) };
    this.#contents = this.#valueOf(await contentsOf(whose, this.#parts.stores)) ?? null;
    this.#videos = [];
    await this.#gather();
  }

  /** Chooses who reads it and what goes along. */
  async change(change: Partial<PackageChoice>): Promise<void> {
    this.#choice = { ...this.#choice, ...change };
    await this.#gather();
  }

  /** Who follows a plan sends to whoever wrote it; elsewhere its answers go to the patient. */
  #readerOf(whose: Whose): Pick<PackageChoice, 'reader' | 'withReasons' | 'withRecords'> {
    const listing =
      whose.kind === 'plan' ? this.#listings?.find(({ planId }) => planId === whose.planId) : undefined;
    const reader = listing === undefined || listing.isFollowed ? 'therapist' : 'patient';
    return { reader, withReasons: false, withRecords: false };
  }

  /** Whether a video goes along; none does before it is chosen. */
  hasVideo(video: KeptVideo): boolean {
    return this.#videos.includes(videoKey(video));
  }

  /** Chooses a video, or takes it back. */
  async chooseVideo(video: KeptVideo, isChosen: boolean): Promise<void> {
    const key = videoKey(video);
    this.#videos = this.#videos.filter((each) => each !== key).concat(isChosen ? key : []);
    await this.#gather();
  }

  /** Everything of whoever was chosen, every session and video. */
  async chooseEverything(): Promise<void> {
    this.#choice = { ...FIRST_CHOICE, sessions: 'all' };
    this.#videos = this.#contents?.videos.map(videoKey) ?? [];
    await this.#gather();
  }

  /** Seals what was chosen. */
  async seal(lock: Lock): Promise<void> {
    const files = this.#files;
    if (files === null || this.#share !== null) return;
    const { sealing, moment, newId, software } = this.#parts;
    const writtenAt = moment();
    this.#share = 0;
    try {
      const heading = { id: newId(), writtenAt, software, label: this.label };
      const blob = await sealing.write(heading, files, lock, (share) => (this.#share = share));
      const name = `forearmed-${writtenAt.slice(0, 10)}-${heading.id.slice(0, 4)}${lock.kind === 'open' ? '.zip' : '.zip.age'}`;
      this.#ready = { file: new File([blob], name, { type: blob.type }), lock: lock.kind };
    } finally {
      this.#share = null;
    }
  }

  /** Whoever was chosen is not there any more. */
  async forget(): Promise<void> {
    this.#contents = null;
    await this.#gather();
  }

  /** Lets go of the package that is ready. */
  letGo(): void {
    this.#ready = null;
  }

  /** Puts what is chosen into files, so that their sizes are known before anything is sent. */
  async #gather(): Promise<void> {
    this.#round += 1;
    const round = this.#round;
    this.#ready = null;
    this.#files = null;
    const contents = this.#contents;
    if (contents === null) return;
    const files = await this.#filesOf(contents, (share) => {
      if (round === this.#round) this.#share = share;
      return round === this.#round;
    });
    if (round !== this.#round) return;
    this.#share = null;
    this.#files = files;
  }

  /** Null where a newer choice came, or where something could not be read. */
  async #filesOf(
    contents: PersonContents,
    isWanted: (share: number) => boolean,
  ): Promise<readonly PackageFile[] | null> {
    const { stores } = this.#parts;
    const choice = this.#choice;
    const chosen = this.#chosenSessions(contents);
    const files = chosenDocuments(contents, chosen, choice).map(fileOf);
    if (!sendsRecords(choice)) return files;
    const isChosen = (sessionId: string): boolean => chosen.some(({ id }) => id === sessionId);
    for (const [index, { id }] of chosen.entries()) {
      const loaded = await stores.sessions.loadSession(id);
      if (loaded.ok) files.push(fileOf({ kind: 'record', record: loaded.value }), tableOf(loaded.value));
      if (!isWanted((index + 1) / chosen.length)) return null;
    }
    for (const video of contents.videos.filter((each) => isChosen(each.sessionId) && this.hasVideo(each))) {
      const content = await stores.videos?.loadVideo(video);
      if (content?.ok === true) files.push(fileOf({ kind: 'video', video, content: content.value }));
    }
    return files;
  }

  #chosenSessions(contents: PersonContents): ReturnType<typeof chosenSessions> {
    return chosenSessions(contents, this.#choice, dayOf(this.#parts.moment()));
  }

  #valueOf<Value>(stored: Stored<Value>): Value | undefined {
    this.#problem = stored.ok ? null : stored.problem;
    return stored.ok ? stored.value : undefined;
  }
}

/** What was judged of a session, for a spreadsheet. */
function tableOf(record: SessionRecord): PackageFile {
  const { id, createdAt, settings } = record;
  const isHold = settings.exercise === 'hold';
  const name = `${createdAt.slice(0, 10)}-${settings.exercise}-${id.slice(0, 8)}.${isHold ? 'holds' : 'repetitions'}.csv`;
  return tableFile(name, isHold ? holdsCsv(outlineOf(record)) : repetitionsCsv(outlineOf(record)));
}

function videoKey({ sessionId, setIndex }: KeptVideo): string {
  return `${sessionId} ${setIndex}`;
}
