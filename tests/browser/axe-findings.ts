import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

declare global {
  interface Window {
    axe: {
      run(): Promise<{ violations: { id: string; nodes: { html: string; target: string[] }[] }[] }>;
    };
  }
}

/** What axe-core finds on the page as it stands, against WCAG 2.2 AA and its best practices: "rule at place: markup". */
export async function axeFindings(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  return page.evaluate(async () => {
    const { violations } = await window.axe.run();
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html, target }) => `${id} at ${target.join(' ')}: ${html.slice(0, 160)}`),
    );
  });
}
