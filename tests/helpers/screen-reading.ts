import type { Page } from 'playwright-core';
import { z } from 'zod';

/*
 * What a screen reader is given: the browser's own accessibility tree in reading order, and what its live regions announce.
 */

/** One thing that is read. */
export interface ReadThing {
  readonly role: string;
  readonly name: string;
  readonly description: string;
  readonly level: number | null;
  readonly states: readonly string[];
}

const valueSchema = z.object({ value: z.unknown().optional() }).optional();
const nodeSchema = z.object({
  nodeId: z.string(),
  ignored: z.boolean(),
  role: valueSchema,
  name: valueSchema,
  description: valueSchema,
  properties: z
    .array(z.object({ name: z.string(), value: z.object({ value: z.unknown().optional() }) }))
    .default([]),
  childIds: z.array(z.string()).default([]),
});
type Node = z.infer<typeof nodeSchema>;
const treeSchema = z.object({ nodes: z.array(nodeSchema) });

/** Read as one thing: their text is their name, and is not read again. */
const WHOLE =
  /^(button|link|heading|Legend|checkbox|radio|image|img|combobox|slider|textbox|spinbutton|switch|tab|cell|columnheader|rowheader|term)$/;
/** Their label stands beside them as text of its own, as is usual. */
const LABELLED = /^(combobox|checkbox|radio|slider|textbox|spinbutton|switch)$/;
const IN_TABLE = /^(cell|columnheader|rowheader)$/;
/** Read for what is in them, unless they have a name of their own. */
const NAMELESS =
  /^(generic|paragraph|list|listitem|none|group|section|region|article|status|alert|LayoutTable|rowgroup|strong|code|term|definition|descriptionlist|labeltext|legend|figure|figcaption|mark|emphasis|header|main|banner|sectionheader|sectionfooter|caption|RootWebArea|table|row|dialog)$/i;
const SKIPPED = /^(InlineTextBox|ListMarker)$/;
/** Named by the heading or legend in them, as is usual: that is no reading twice. */
const NAMED_BY_INSIDE = /^(group|region|dialog|navigation|radiogroup|table)$/;

/** Everything on the page in the order in which it is read. */
export async function readScreen(page: Page): Promise<readonly ReadThing[]> {
  const devtools = await page.context().newCDPSession(page);
  try {
    await devtools.send('Accessibility.enable');
    const { nodes } = treeSchema.parse(await devtools.send('Accessibility.getFullAXTree'));
    const byId = new Map(nodes.map((node) => [node.nodeId, node]));
    const [root] = nodes;
    return root === undefined ? [] : thingsBelow(root, byId);
  } finally {
    await devtools.detach();
  }
}

function thingsBelow(node: Node, byId: ReadonlyMap<string, Node>): readonly ReadThing[] {
  const thing = thingOf(node);
  if (SKIPPED.test(thing.role)) return [];
  const isRead =
    !node.ignored && (!NAMELESS.test(thing.role) || (thing.name !== '' && thing.role !== 'RootWebArea'));
  if (isRead && (WHOLE.test(thing.role) || thing.role === 'StaticText')) return [thing];
  const below = node.childIds.flatMap((id) => {
    const child = byId.get(id);
    return child === undefined ? [] : thingsBelow(child, byId);
  });
  return isRead ? [thing, ...below] : below;
}

function thingOf({ role, name, description, properties }: Node): ReadThing {
  const text = (value: unknown): string =>
    typeof value === 'string' ? value.trim().replace(/\s+/g, ' ') : '';
  const property = (wanted: string): unknown => properties.find((each) => each.name === wanted)?.value.value;
  const level = property('level');
  const states = ['pressed', 'checked', 'expanded', 'disabled', 'focused'].filter((state) =>
    [true, 'true'].some((on) => property(state) === on),
  );
  return {
    role: text(role?.value),
    name: text(name?.value),
    description: text(description?.value),
    level: typeof level === 'number' ? level : null,
    states,
  };
}

/** A thing as a line: 'heading 1 "Today"', 'button "Tones" (pressed)', or plain text. */
export function lineOf({ role, name, description, level, states }: ReadThing): string {
  if (role === 'StaticText') return `  ${name}`;
  const beside = [...states, ...(description === '' ? [] : [`described: ${description}`])];
  return `${role}${level === null ? '' : ` ${String(level)}`} "${name}"${beside.length === 0 ? '' : ` (${beside.join('; ')})`}`;
}

/** What is wrong with a reading: what has no name, what is read twice in a row, and controls that cannot be told apart. */
export function faultsOf(things: readonly ReadThing[]): readonly string[] {
  const controls = things.filter(({ role }) => /^(button|checkbox|radio|slider|textbox|switch)$/.test(role));
  const nameless = things
    .filter(({ role, name }) => WHOLE.test(role) && name === '')
    .map(({ role }) => `no name: ${role}`);
  const isUsual = (before: ReadThing, thing: ReadThing): boolean =>
    NAMED_BY_INSIDE.test(before.role) ||
    LABELLED.test(before.role) ||
    LABELLED.test(thing.role) ||
    (IN_TABLE.test(before.role) && IN_TABLE.test(thing.role));
  const twice = things.flatMap((thing, at) => {
    const before = things[at - 1];
    return thing.name !== '' && before?.name === thing.name && !isUsual(before, thing)
      ? [`read twice: ${lineOf(before)} / ${lineOf(thing)}`]
      : [];
  });
  const names = controls.map(({ role, name }) => `${role} "${name}"`);
  const alike = names.filter((name, at) => names.indexOf(name) !== at).map((name) => `two alike: ${name}`);
  const described = things
    .filter(({ name, description }) => description !== '' && description === name)
    .map((thing) => `described by its name: ${lineOf(thing)}`);
  return [...nameless, ...twice, ...alike, ...described];
}

declare global {
  interface Window {
    /** What live regions have announced so far. */
    announced?: string[];
  }
}

/** Notes from the next load on what the page's live regions announce, as a screen reader hears it. */
export async function hearAnnouncements(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const announced: string[] = [];
    window.announced = announced;
    const REGIONS = '[role=status], [role=alert], [aria-live=polite], [aria-live=assertive]';
    const last = new WeakMap<Element, string>();
    const hear = (region: Element): void => {
      // What is not drawn at all is not told either.
      if (region.getClientRects().length === 0) return;
      const text = (region.textContent ?? '').trim().replace(/\s+/g, ' ');
      if (text !== '' && last.get(region) !== text)
        announced.push(region.getAttribute('role') === 'alert' ? `at once: ${text}` : text);
      last.set(region, text);
    };
    new MutationObserver((changes) => {
      const regions = new Set<Element>();
      for (const { target, addedNodes } of changes) {
        const at = target instanceof Element ? target : target.parentElement;
        const around = at?.closest(REGIONS);
        if (around) regions.add(around);
        for (const node of addedNodes) {
          if (!(node instanceof Element)) continue;
          if (node.matches(REGIONS)) regions.add(node);
          node.querySelectorAll(REGIONS).forEach((region) => regions.add(region));
        }
      }
      regions.forEach(hear);
    }).observe(document, { subtree: true, childList: true, characterData: true });
  });
}

/** What was announced since the page was loaded. */
export function announcementsOf(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => window.announced ?? []);
}
