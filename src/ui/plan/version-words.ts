import type { Plan } from '../../core/plan/plan.ts';

/** A reason that stands ready: what changed, as far as it goes into a line. */
export function reasonReady(before: Plan | null, differences: readonly string[]): string {
  if (before === null) return 'First version.';
  const [first, ...others] = differences;
  if (first === undefined) return 'Looked through, nothing to change.';
  const more = others.length === 0 ? '' : ` And ${others.length} more.`;
  return `${first.slice(0, 360)}${more}`;
}

/** The stem of the files of a plan: "plan-left-arm-tuesday-v3". */
export function planFileStem({ person, version }: Plan): string {
  const label = person.label
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return `plan-${label === '' ? person.treatedSide : label}-v${version}`;
}
