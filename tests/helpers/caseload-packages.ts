import { fileOf, type PackageItem } from '../../src/core/exchange/package-items.ts';
import type { Lock } from '../../src/core/exchange/sealing.ts';
import type { InventedPerson } from './caseload.ts';
import { SAMPLE_HEADING, sealingHere } from './sample-package.ts';

/** Everything of an invented person as the package that they would hand over. */
export async function packageOf({ label, log }: InventedPerson, lock: Lock): Promise<Buffer> {
  const items: PackageItem[] = [
    ...log.versions.map((plan) => ({ kind: 'plan' as const, plan })),
    ...log.days.map((day) => ({ kind: 'day' as const, day })),
    ...log.records.map((record) => ({ kind: 'record' as const, record })),
  ];
  const sealed = await sealingHere().write(
    { ...SAMPLE_HEADING, label },
    items.map(fileOf),
    lock,
    () => undefined,
  );
  return Buffer.from(await sealed.arrayBuffer());
}
