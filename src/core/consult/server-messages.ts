import { z } from 'zod';
import { parseGuarded } from '../documents/guarded-text.ts';
import type { Reading } from '../documents/read-document.ts';
import { CONSULT_LIMITS } from './limits.ts';
import type { MessageProblem } from './read-message.ts';

const idSchema = z.string().regex(/^[A-Za-z0-9_-]{4,40}$/);
const saidSchema = z.strictObject({ msg: z.string().max(200) });

/** Everything that may come from the server that passes texts on. What it passes on is sealed, and is read by its own schema. */
export const serverMessageSchema = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('OPEN') }),
  z.strictObject({ type: z.literal('ID-TAKEN'), payload: saidSchema }),
  z.strictObject({ type: z.literal('ERROR'), payload: saidSchema }),
  z.strictObject({
    type: z.enum(['OFFER', 'ANSWER']),
    src: idSchema,
    dst: idSchema,
    payload: z
      .string()
      .max(CONSULT_LIMITS.sealedCharacters)
      .regex(/^[A-Za-z0-9_-]+$/),
  }),
  /** Nobody is there, or not any more. */
  z.strictObject({ type: z.enum(['LEAVE', 'EXPIRE']), src: idSchema, dst: idSchema }),
]);
export type ServerMessage = z.infer<typeof serverMessageSchema>;

/** A message of the server as it came, or why it is refused. */
export function readServerMessage(text: string): Reading<ServerMessage, MessageProblem> {
  const parsed = parseGuarded(text, CONSULT_LIMITS.sealedCharacters + 1_000);
  if (!parsed.ok) return { ok: false, problem: parsed.problem.kind === 'too-long' ? 'too-long' : 'not-read' };
  const checked = serverMessageSchema.safeParse(parsed.value);
  return checked.success ? { ok: true, value: checked.data } : { ok: false, problem: 'not-read' };
}
