import { z } from 'zod';
import { exerciseSettingsSchema } from '../exercises/exercise.ts';
import type { OpenedSource } from '../pose/frame-source.ts';

/** A camera that can be chosen. */
export interface CameraChoice {
  readonly id: string;
  readonly label: string;
}

/** A clip that comes with the app, with what is known of the figure in it. */
export const demoClipSchema = z.object({
  name: z.string(),
  /** What is shown, in a sentence. */
  shows: z.string(),
  settings: exerciseSettingsSchema,
});
export type DemoClip = z.infer<typeof demoClipSchema>;

/** Opens what pictures come from. Nothing here rejects for a fault of a device or a file: that is a problem. */
export interface SourceOpener {
  /** Empty where the list cannot be had. */
  demoClips(): Promise<readonly DemoClip[]>;
  /** The cameras that are there; without labels until the use of a camera was once allowed. */
  cameras(): Promise<readonly CameraChoice[]>;
  /** Null lets the browser choose. */
  openCamera(cameraId: string | null): Promise<OpenedSource>;
  openSharedWindow(): Promise<OpenedSource>;
  openClip(file: File): Promise<OpenedSource>;
  openDemo(clip: DemoClip): Promise<OpenedSource>;
}
