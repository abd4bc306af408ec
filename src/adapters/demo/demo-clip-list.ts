import { z } from 'zod';
import { demoClipSchema, type DemoClip } from '../../core/session/source-opener.ts';

/** The clips that come with the app, by the list beside them at `base`; empty when the list cannot be read. */
export async function demoClipList(base: string): Promise<readonly DemoClip[]> {
  const response = await fetch(`${base}index.json`).catch(() => null);
  if (response?.ok !== true) return [];
  const list = z.array(demoClipSchema).safeParse(await response.json().catch(() => null));
  return list.success ? list.data : [];
}
