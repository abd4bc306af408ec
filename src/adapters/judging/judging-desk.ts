import { openedHere } from '../../core/export/open-record.ts';
import { judgePieces } from '../../core/session/build-session.ts';
import { buffersOf } from '../../core/session/measured-set.ts';
import { joinSeries } from '../../core/session/frame-pieces.ts';
import { type FrameSeries } from '../../core/session/quantised-frames.ts';
import type { OpenedRecord } from '../../core/session/record-opener.ts';
import type { SessionStore } from '../../core/session/session-store.ts';
import type { Answer, FromJudge, Question, ToJudge } from './messages.ts';

type Say = (message: FromJudge, handedOver?: Transferable[]) => void;

/** Does in the worker what the page asks: judges sets, opens records, measures their sets and writes their files. */
export class JudgingDesk {
  readonly #openStore: () => Promise<SessionStore>;
  readonly #say: Say;
  readonly #pieces = new Map<number, FrameSeries[]>();
  readonly #records = new Map<number, OpenedRecord>();

  constructor(openStore: () => Promise<SessionStore>, say: Say) {
    this.#openStore = openStore;
    this.#say = say;
  }

  /** Takes a message of the page. Never rejects: what fails is said. */
  async take(message: ToJudge): Promise<void> {
    if (message.kind === 'live') return this.#live(message.lockName);
    const { job } = message;
    if (message.kind === 'pieces') {
      this.#pieces.set(job, [...(this.#pieces.get(job) ?? []), ...message.pieces]);
      return this.#say({ kind: 'taken', job });
    }
    try {
      const answer = await this.#answer(message, job);
      this.#say({ job, ...answer }, answer.kind === 'measured' ? buffersOf(answer.set) : []);
    } catch (error) {
      this.#say({ kind: 'failed', job, detail: error instanceof Error ? error.message : String(error) });
    }
  }

  /** Holds a lock that falls with this worker, however it ends: by that the page knows. */
  #live(lockName: string): void {
    void navigator.locks.request(lockName, () => {
      this.#say({ kind: 'living' });
      return new Promise(() => undefined);
    });
  }

  async #answer(question: Question, job: number): Promise<Answer> {
    switch (question.kind) {
      case 'judge': {
        const pieces = this.#takePieces(job);
        const { settings, thresholds, landmarks } = question;
        return { kind: 'judged', findings: judgePieces(pieces, settings, thresholds, landmarks) };
      }
      case 'open': {
        const store = await this.#openStore();
        const loaded = await store.loadSession(question.sessionId);
        return loaded.ok ? this.#opened(job, openedHere(loaded.value)) : { kind: 'opened', opened: loaded };
      }
      case 'take': {
        const pieces = this.#takePieces(job);
        let next = 0;
        const sets = question.outline.sets.map((set, index) => {
          const count = question.piecesOfSets[index] ?? 0;
          const frames = joinSeries(pieces.slice(next, next + count));
          next += count;
          return { ...set, frames };
        });
        return this.#opened(job, openedHere({ ...question.outline, sets }));
      }
      case 'measure': {
        const onShare = (share: number): void => this.#say({ kind: 'share', job, share });
        return {
          kind: 'measured',
          set: await this.#record(question.record).measure(question.setIndex, onShare),
        };
      }
      case 'judge-parts': {
        const { record, setIndex, parts } = question;
        return { kind: 'judged-parts', judgement: await this.#record(record).judgeParts(setIndex, parts) };
      }
      case 'record-file':
        return { kind: 'file', file: await this.#record(question.record).recordFile() };
      case 'frames-file':
        return { kind: 'file', file: await this.#record(question.record).framesFile() };
      case 'close':
        this.#records.get(question.record)?.close();
        this.#records.delete(question.record);
        return { kind: 'closed' };
    }
  }

  #takePieces(job: number): FrameSeries[] {
    const pieces = this.#pieces.get(job) ?? [];
    this.#pieces.delete(job);
    return pieces;
  }

  #opened(job: number, record: OpenedRecord): Answer {
    this.#records.set(job, record);
    return { kind: 'opened', opened: { ok: true, value: record.outline } };
  }

  #record(number: number): OpenedRecord {
    const record = this.#records.get(number);
    if (record === undefined) throw new Error(`The record ${String(number)} is not open here.`);
    return record;
  }
}
