import type { Stored } from '../stored.ts';
import type { AsideValue, BackupCounts, BackupItem } from './backup-lines.ts';

/** The tables whose rows are looked at. */
export type CheckedTable =
  | 'sessions'
  | 'sets'
  | 'pieces'
  | 'plans'
  | 'days'
  | 'decisions'
  | 'reviews'
  | 'videos'
  /** What came under the name of something else. */
  | 'beside'
  | 'keys';

/** Something that is wrong with what is kept. alone: it belongs to a session or set that is not kept. */
export interface Trouble {
  readonly table: CheckedTable;
  readonly key: string | readonly (string | number)[];
  readonly kind: 'unreadable' | 'alone';
  /** What the gate said, for developers. */
  readonly detail: string;
}

/** What a check found. */
export interface StoreFindings {
  /** Rows by table. */
  readonly counts: Readonly<Record<CheckedTable, number>>;
  readonly troubles: readonly Trouble[];
  /** True when every row was read, false when only keys were compared and what lists need was read. */
  readonly isThorough: boolean;
}

/** How work that takes long says how far it is, 0 to 1, and hears that it is no longer wanted. */
export interface Watch {
  readonly onShare: (share: number) => void;
  readonly isCancelled: () => boolean;
}

/** A row that repair or restoring set aside. */
export interface AsideRow extends AsideValue {
  readonly id: string;
  /** Moment with offset. */
  readonly setAsideAt: string;
}

/** Looks after the store as a whole: checks, repairs, sets aside, and gives everything for a backup. */
export interface StoreCare {
  /** Compares what belongs together; cheap enough for every start. thorough: reads every row through its gate as well. */
  check(thorough: boolean, watch: Watch): Promise<Stored<StoreFindings>>;
  /** Sets aside what a check found, each with all that belongs to it; gives how many. */
  repair(troubles: readonly Trouble[], at: string, watch: Watch): Promise<Stored<number>>;
  /** Keeps a value aside under an id; false when it is there already. */
  setAside(id: string, value: AsideValue, at: string): Promise<Stored<boolean>>;
  countAside(): Promise<Stored<number>>;
  /** Rows that were set aside, one at a time. */
  asideRows(): AsyncGenerator<AsideRow>;
  /** Deletes for good what was set aside: only after the person has it as a file. */
  clearAside(): Promise<Stored<null>>;
  /** What there is of each kind, for the share that is done. */
  counts(): Promise<Stored<BackupCounts>>;
  /** Everything that is kept, one at a time; rejects when the store fails. Preferences are not in the store. */
  items(withVideos: boolean): AsyncGenerator<BackupItem>;
}
