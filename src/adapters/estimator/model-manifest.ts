import { z } from 'zod';
import stated from '../../../models/manifest.json' with { type: 'json' };

/** One file of models/manifest.json. */
const modelFileSchema = z.object({
  /** Name under /models/. */
  name: z.string().regex(/^[\w.-]+$/),
  bytes: z.int().positive(),
  /** Lower-case hex. */
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  package: z.string().min(1),
  version: z.string().min(1),
  /** Where it lies in the package. */
  path: z.string().min(1),
  licence: z.string().min(1),
});
export type ModelFile = z.infer<typeof modelFileSchema>;

/** models/manifest.json: every file that the estimators load, with its origin and hash. */
export const modelManifestSchema = z.object({ files: z.array(modelFileSchema).min(1) });

const FILES: ReadonlyMap<string, ModelFile> = new Map(
  modelManifestSchema.parse(stated).files.map((file) => [file.name, file]),
);

/** What the manifest states of a file. Throws when the name is not in it: a mistake in the code. */
export function modelFile(name: string): ModelFile {
  const file = FILES.get(name);
  if (file === undefined) throw new Error(`modelFile: "${name}" is not in models/manifest.json.`);
  return file;
}

/** The hash of a file as a script tag or fetch takes it. Throws when the name is not in the manifest. */
export function modelIntegrity(name: string): string {
  const pairs = modelFile(name).sha256.match(/../g) ?? [];
  return `sha256-${btoa(String.fromCharCode(...pairs.map((pair) => Number.parseInt(pair, 16))))}`;
}
