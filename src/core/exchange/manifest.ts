import { z } from 'zod';
import { keptVideoSchema } from '../session/video-store.ts';
import { PACKAGE_LIMITS } from './limits.ts';

/** Says that a file is the list of what a package of this project holds. */
export const PACKAGE_FORMAT = 'forearmed-package';
/** The version that this code writes. Raise it with a step in read-package.ts. */
export const PACKAGE_VERSION = 1;

/** Where the list stands in the package. */
export const MANIFEST_PATH = 'manifest.json';

/** What a package can hold. Everything else in it is not looked at. */
export const ITEM_KINDS = ['plan', 'decision', 'day', 'record', 'review', 'video', 'table'] as const;
export type ItemKind = (typeof ITEM_KINDS)[number];

/** What a package says of one thing in it. */
export const manifestEntrySchema = z.strictObject({
  path: z
    .string()
    .max(200)
    .regex(/^[a-z-]+\/[A-Za-z0-9._-]+$/)
    .describe('Where it stands in the package.'),
  kind: z.enum(ITEM_KINDS).describe('table: the same for a spreadsheet, never read back.'),
  bytes: z.int().min(0).max(PACKAGE_LIMITS.fileBytes).describe('Size when unpacked.'),
  video: keptVideoSchema.nullable().describe('Of which set a video is; null for everything else.'),
});
export type ManifestEntry = z.infer<typeof manifestEntrySchema>;

/** What a package holds, first thing in it. */
export const manifestSchema = z.strictObject({
  format: z.literal(PACKAGE_FORMAT),
  schemaVersion: z.literal(PACKAGE_VERSION),
  id: z.uuid(),
  writtenAt: z.iso.datetime({ offset: true }),
  software: z.strictObject({ name: z.string().max(60), version: z.string().max(30) }),
  label: z.string().max(120).describe("Whose it is, as the plan's label says; it may be no name."),
  entries: z.array(manifestEntrySchema).max(PACKAGE_LIMITS.entries),
});
export type Manifest = z.infer<typeof manifestSchema>;
