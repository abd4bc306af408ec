import type { OnShare } from '../../core/session/build-session.ts';
import type { MeasuredSet } from '../../core/session/measured-set.ts';
import { cutSeries } from '../../core/session/frame-pieces.ts';
import {
  outlineOf,
  type OpenedRecord,
  type RecordOpener,
  type RecordOutline,
} from '../../core/session/record-opener.ts';
import type { SessionStore } from '../../core/session/session-store.ts';
import type { Stored } from '../../core/stored.ts';
import { judgeHere, type SetJudge } from '../../core/session/set-judge.ts';
import { JudgingLink, WorkerLost } from './judging-link.ts';
import type { Answer } from './messages.ts';

/** Frames in one of the pieces into which a set is cut to be handed over. */
const PIECE_FRAMES = 16;

/** How often a worker is tried before the page does the work itself. */
const WORKER_ATTEMPTS = 2;

/** A record that is open in one worker. */
interface OpenIn {
  readonly link: JudgingLink;
  readonly record: number;
  readonly opened: Stored<RecordOutline>;
}

/**
 * Judges sets and opens records in a worker, which is started when it is first needed and started anew when it ends:
 * what was asked is asked once more of a new worker, and at last done by the page, so that it is never lost.
 */
export class JudgingWorker implements SetJudge {
  readonly #startWorker: () => Worker;
  #link: JudgingLink | null = null;

  constructor(startWorker: () => Worker) {
    this.#startWorker = startWorker;
  }

  judge(...asked: Parameters<SetJudge['judge']>): ReturnType<SetJudge['judge']> {
    const [pieces, settings, thresholds, landmarks] = asked;
    return this.#attempt(
      async (link) => {
        const job = link.newJob();
        await link.give(job, pieces);
        const answer = await link.ask(job, { kind: 'judge', settings, thresholds, landmarks });
        return expected(answer, 'judged').findings;
      },
      () => judgeHere.judge(...asked),
    );
  }

  /** Opens the records of a store. */
  recordsOf(store: SessionStore): RecordOpener {
    const openHere = async (sessionId: string): Promise<Stored<OpenedRecord>> => {
      const { recordsHere } = await import('../../core/export/open-record.ts');
      return recordsHere(store).open(sessionId);
    };
    return {
      open: async (sessionId) => {
        const byPage = async (): Promise<OpenedRecord> => {
          const opened = await openHere(sessionId);
          if (!opened.ok) throw new Error(`The record could not be opened again: ${opened.detail}`);
          return opened.value;
        };
        const first = await this.#attempt(
          (link) => openIn(link, store, sessionId),
          async () => null,
        );
        if (first === null) return openHere(sessionId);
        if (!first.opened.ok) return first.opened;
        return { ok: true, value: this.#opened(first.opened.value, first, store, byPage) };
      },
    };
  }

  #opened(
    outline: RecordOutline,
    first: OpenIn,
    store: SessionStore,
    byPage: () => Promise<OpenedRecord>,
  ): OpenedRecord {
    let current = first;
    const recordIn = async (link: JudgingLink): Promise<number> => {
      if (link !== current.link) current = await openIn(link, store, outline.id);
      return current.record;
    };
    const file = (kind: 'record-file' | 'frames-file'): ((link: JudgingLink) => Promise<Blob>) => {
      return async (link) => {
        const record = await recordIn(link);
        return expected(await link.ask(link.newJob(), { kind, record }), 'file').file;
      };
    };
    const measure = async (link: JudgingLink, setIndex: number, onShare: OnShare): Promise<MeasuredSet> => {
      const record = await recordIn(link);
      const answer = await link.ask(link.newJob(), { kind: 'measure', record, setIndex }, onShare);
      return expected(answer, 'measured').set;
    };
    return {
      outline,
      measure: (setIndex, onShare) =>
        this.#attempt(
          (link) => measure(link, setIndex, onShare),
          async () => (await byPage()).measure(setIndex, onShare),
        ),
      judgeParts: (setIndex, parts) =>
        this.#attempt(
          async (link) => {
            const record = await recordIn(link);
            const answer = await link.ask(link.newJob(), { kind: 'judge-parts', record, setIndex, parts });
            return expected(answer, 'judged-parts').judgement;
          },
          async () => (await byPage()).judgeParts(setIndex, parts),
        ),
      recordFile: () => this.#attempt(file('record-file'), async () => (await byPage()).recordFile()),
      framesFile: () => this.#attempt(file('frames-file'), async () => (await byPage()).framesFile()),
      close: () => {
        const { link, record } = current;
        // Where the worker is gone there is nothing to let go of.
        void link.ask(link.newJob(), { kind: 'close', record }).catch(() => undefined);
      },
    };
  }

  /** Does a piece of work in a worker, in a new one when the first is lost, and else on the page. */
  async #attempt<Result>(
    work: (link: JudgingLink) => Promise<Result>,
    here: () => Promise<Result>,
  ): Promise<Result> {
    for (let attempt = 0; attempt < WORKER_ATTEMPTS; attempt++) {
      try {
        return await work(this.#living());
      } catch (error) {
        // What fails for a reason of its own fails in every worker; the page finds out what the matter is.
        if (!(error instanceof WorkerLost)) break;
      }
    }
    return here();
  }

  #living(): JudgingLink {
    if (this.#link === null || !this.#link.isLiving) this.#link = new JudgingLink(this.#startWorker());
    return this.#link;
  }
}

/** Opens a record in a worker: by itself where the database keeps it, else handed over piece by piece. */
async function openIn(link: JudgingLink, store: SessionStore, sessionId: string): Promise<OpenIn> {
  const record = link.newJob();
  if (store.lasts === 'on-this-machine') {
    const answer = await link.ask(record, { kind: 'open', sessionId });
    return { link, record, opened: expected(answer, 'opened').opened };
  }
  const loaded = await store.loadSession(sessionId);
  if (!loaded.ok) return { link, record, opened: loaded };
  const { sets } = loaded.value;
  for (const { frames } of sets) await link.give(record, cutSeries(frames, PIECE_FRAMES));
  const outline = outlineOf(loaded.value);
  const piecesOfSets = sets.map(({ frames }) => Math.ceil(frames.frameCount / PIECE_FRAMES));
  const answer = await link.ask(record, { kind: 'take', outline, piecesOfSets });
  return { link, record, opened: expected(answer, 'opened').opened };
}

function expected<Kind extends Answer['kind']>(answer: Answer, kind: Kind): Extract<Answer, { kind: Kind }> {
  if (!isOfKind(answer, kind))
    throw new Error(`The judging worker answered "${answer.kind}", not "${kind}".`);
  return answer;
}

function isOfKind<Kind extends Answer['kind']>(
  answer: Answer,
  kind: Kind,
): answer is Extract<Answer, { kind: Kind }> {
  return answer.kind === kind;
}
