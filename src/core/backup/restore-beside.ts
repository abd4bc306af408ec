import { bytesOfBase64 } from '../documents/base64.ts';
import type { ExchangeStore } from '../exchange/exchange-store.ts';
import type { Stored } from '../stored.ts';
import type { BesideHead } from './backup-lines.ts';
import type { RestoreOutcome } from './restore.ts';
import type { PartsRestoring } from './restore-video.ts';

const NOTHING: Stored<null> = { ok: true, value: null };

/** Takes in what was kept beside something else of its name. The same that is here already is left as it is. */
export function restoreBeside(store: ExchangeStore): PartsRestoring<BesideHead> {
  let open: { readonly head: BesideHead; readonly parts: Uint8Array<ArrayBuffer>[] } | null = null;
  return {
    begin: async (head) => {
      open = null;
      const listed = await store.listBeside();
      if (!listed.ok) return listed;
      if (listed.value.some(({ key }) => key === head.key)) return { ok: true, value: 'same' };
      open = { head, parts: [] };
      return NOTHING;
    },
    bytes: async (base64) => {
      open?.parts.push(bytesOfBase64(base64));
      return NOTHING;
    },
    end: async (): Promise<Stored<RestoreOutcome | null>> => {
      if (open === null) return NOTHING;
      const { head, parts } = open;
      open = null;
      const { mimeType: type, ...row } = head;
      const kept = await store.keepBeside({ ...row, content: new Blob(parts, { type }) });
      return kept.ok ? { ok: true, value: 'added' } : kept;
    },
  };
}
