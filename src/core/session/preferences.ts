import { z } from 'zod';
import { exerciseSchema, sideSchema, variantSchema } from '../exercises/exercise.ts';

/** Light, dark, or what the system says. */
const themeSchema = z.enum(['system', 'light', 'dark']);
export type Theme = z.infer<typeof themeSchema>;

/** The pose network that is wished. */
const networkWishSchema = z.enum(['automatic', 'lite', 'full', 'heavy']);
export type NetworkWish = z.infer<typeof networkWishSchema>;

/** How often each picture of a clip is looked at: once, with the network above, or three times (combine-poses.ts). */
const clipLooksSchema = z.enum(['one', 'three']);
export type ClipLooks = z.infer<typeof clipLooksSchema>;

/** Characters of a phrase, and phrases, at most. */
const MOST_PHRASE = 300;
export const MOST_PHRASES = 60;

/**
 * What was chosen last time, so that it need not be chosen again. Every field mends itself: a damaged or older value
 * becomes its default and the rest is kept. The side has no default, because a guessed arm would be a wrong record.
 */
export const preferencesSchema = z.object({
  exercise: exerciseSchema.catch('hold'),
  side: sideSchema.nullable().catch(null),
  variant: variantSchema.catch('supinated'),
  /** The person's height in centimetres, or null when not given. */
  statureCm: z.number().min(80).max(250).nullable().catch(null),
  /** The camera used last, by the browser's own id; null lets the browser choose. */
  cameraId: z.string().nullable().catch(null),
  /** Shows the camera as a mirror does. Changes the preview only, never the side. */
  mirrored: z.boolean().catch(true),
  /** The size of the pose network: fitted to the machine, or the one that was chosen. */
  network: networkWishSchema.catch('automatic'),
  clipLooks: clipLooksSchema.catch('one'),
  /** The size that was fitted last time, tried first the next time; null before the first time. */
  fittedNetwork: z.enum(['lite', 'full']).nullable().catch(null),
  theme: themeSchema.catch('system'),
  tones: z.boolean().catch(true),
  voice: z.boolean().catch(false),
  /** Of tones and voice, 0 silent to 100 as loud as the machine is set. */
  volumePercent: z.int().min(0).max(100).catch(80),
  /** The voice that was chosen, by the browser's own address; null: any of the language. */
  voiceId: z.string().nullable().catch(null),
  /** The language of the voice, as "en-GB"; null: any English. */
  voiceLanguage: z.string().nullable().catch(null),
  /** Sets of a plan start by themselves when the person is in position and still. */
  startsByItself: z.boolean().catch(true),
  /** Sets of a plan end by themselves when the person has left the position. */
  endsByItself: z.boolean().catch(true),
  /** A raised free hand pauses a set, where the exercise leaves that hand free. */
  handPauses: z.boolean().catch(true),
  /** Time to walk into place after starting a set, seconds. */
  countInSeconds: z.int().min(0).max(30).catch(5),
  /** Servers that a consult asks for a way to the other side, as typed; none by itself. */
  consultServers: z.string().max(500).catch(''),
  /** Phrases that a therapist often writes in reviews. */
  phrases: z.array(z.string().max(MOST_PHRASE)).max(MOST_PHRASES).catch([]),
  /** The name that was signed with last. */
  signName: z.string().max(120).catch(''),
});
export type Preferences = z.infer<typeof preferencesSchema>;

/** Keeps the preferences on this machine. Both may fail silently: nothing of a session is lost with them. */
export interface PreferencesStore {
  /** What was kept, unchecked, or null. */
  read(): unknown;
  write(preferences: Preferences): void;
}
