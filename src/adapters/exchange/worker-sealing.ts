import type { KeyPair, Opening, OpenedPackage, OpeningKeys, Sealing } from '../../core/exchange/sealing.ts';
import type { PackageProblem } from '../../core/exchange/package-problem.ts';
import type { ExchangeAnswer, ExchangeQuestion, FromExchange } from './messages.ts';

type OnShare = (share: number) => void;

/** Whoever answers: the worker, or in a test the desk itself. */
export type Ask = (question: ExchangeQuestion, onShare: OnShare) => Promise<ExchangeAnswer>;

/** Asks a worker; it begins with the first question. Rejects when the worker ends before it has answered. */
export function askWorker(begin: () => Worker): Ask {
  let worker: Worker | null = null;
  let jobs = 0;
  const waiting = new Map<
    number,
    { readonly hear: (said: FromExchange) => void; readonly lose: () => void }
  >();
  const started = (): Worker => {
    const begun = begin();
    begun.addEventListener('message', ({ data }: MessageEvent<FromExchange>) =>
      waiting.get(data.job)?.hear(data),
    );
    begun.addEventListener('error', () => {
      begun.terminate();
      worker = null;
      for (const { lose } of waiting.values()) lose();
      waiting.clear();
    });
    return begun;
  };
  return (question, onShare) =>
    new Promise((resolve, reject) => {
      worker ??= started();
      jobs += 1;
      const job = jobs;
      const hear = (said: FromExchange): void => {
        if ('share' in said) return onShare(said.share);
        waiting.delete(job);
        if ('answer' in said) resolve(said.answer);
        else reject(new Error(`The exchange worker failed: ${said.failed}`));
      };
      waiting.set(job, {
        hear,
        lose: () => reject(new Error('The exchange worker ended before it had answered.')),
      });
      worker.postMessage({ job, question });
    });
}

/** Sealing and opening by questions. */
export function sealingBy(ask: Ask, moment: () => string): Sealing {
  const quietly = (question: ExchangeQuestion): Promise<ExchangeAnswer> => ask(question, () => undefined);
  const file = async (question: ExchangeQuestion, onShare: OnShare): Promise<Blob> =>
    expected(await ask(question, onShare), 'file').file;
  return {
    newKeyPair: async () => expected(await quietly({ kind: 'new-key', moment: moment() }), 'key').pair,
    keyFile: (pair, passphrase) => file({ kind: 'key-file', pair, passphrase }, () => undefined),
    openKeyFile: async (keyFile, passphrase): Promise<KeyPair | PackageProblem> => {
      const answer = await quietly({ kind: 'open-key-file', file: keyFile, passphrase });
      return answer.kind === 'refused' ? answer.problem : expected(answer, 'key').pair;
    },
    write: (heading, files, lock, onShare) => file({ kind: 'write', heading, files, lock }, onShare),
    open: async (sealed: Blob, keys: OpeningKeys): Promise<Opening> => {
      const answer = await quietly({ kind: 'open', file: sealed, keys });
      if (answer.kind === 'refused' || answer.kind === 'passphrase-asked') return answer;
      const { opened, manifest } = expected(answer, 'opened');
      return { kind: 'opened', opened: packageBy(quietly, opened, manifest) };
    },
  };
}

function packageBy(
  ask: (question: ExchangeQuestion) => Promise<ExchangeAnswer>,
  opened: number,
  manifest: OpenedPackage['manifest'],
): OpenedPackage {
  return {
    manifest,
    item: async (place) => {
      const answer = await ask({ kind: 'item', opened, place });
      return answer.kind === 'refused'
        ? { ok: false, refused: answer.problem }
        : expected(answer, 'item').reading;
    },
    close: () => void ask({ kind: 'close', opened }).catch(() => undefined),
  };
}

/** The answer as the one that was asked for; another one is a mistake in the code. */
function expected<Kind extends ExchangeAnswer['kind']>(
  answer: ExchangeAnswer,
  kind: Kind,
): Extract<ExchangeAnswer, { kind: Kind }> {
  if (isOfKind(answer, kind)) return answer;
  throw new Error(`The exchange worker answered "${answer.kind}" where "${kind}" was asked for.`);
}

function isOfKind<Kind extends ExchangeAnswer['kind']>(
  answer: ExchangeAnswer,
  kind: Kind,
): answer is Extract<ExchangeAnswer, { kind: Kind }> {
  return answer.kind === kind;
}
