/** The app's own switch of its dark colours, which a page without a script hands to the system's. */
const DARK_BY_APP = "@media screen {\n  :root[data-theme='dark'] {";
const DARK_BY_SYSTEM = '@media screen and (prefers-color-scheme: dark) {\n  :root {';

/**
 * The plots' style on the app's colours, light in print.
 * @throws Error where the app's style sheet switches its dark colours in another way than known here.
 */
export function pageStyle(tokens: string): string {
  if (!tokens.includes(DARK_BY_APP))
    throw new Error('pageStyle: the dark colours were not found in the tokens.');
  return `${tokens.replace(DARK_BY_APP, DARK_BY_SYSTEM)}${STYLE}`;
}

const STYLE = `
body { background: var(--ground); padding: var(--space-5) var(--space-4); }
main { max-inline-size: 100rem; margin-inline: auto; display: grid; gap: var(--space-6); grid-template-columns: minmax(0, 1fr); }
section { display: grid; gap: var(--space-3); grid-template-columns: minmax(0, 1fr); }
.plots { display: grid; gap: var(--space-3); grid-template-columns: repeat(auto-fill, minmax(min(100%, 19rem), 1fr)); }
figure { margin: 0; padding: var(--space-2); background: var(--raised); border: 1px solid var(--line); border-radius: var(--corner); break-inside: avoid; max-inline-size: 34rem; }
svg { display: block; inline-size: 100%; block-size: auto; }
.patterns { position: absolute; inline-size: 0; block-size: 0; }
svg text { font-family: var(--figure-face); font-size: 11px; fill: var(--ink); }
svg .name { font-size: 12px; font-weight: 600; }
svg .end { text-anchor: end; }
svg .middle { text-anchor: middle; }
svg .grid { stroke: var(--line); stroke-width: 0.5; }
svg .axis { stroke: var(--line-strong); }
svg .zero { stroke: var(--line-strong); stroke-width: 1; }
svg .bias { stroke: var(--accent); stroke-width: 2; }
svg .limit { stroke: var(--accent); stroke-width: 1.5; stroke-dasharray: 6 4; }
svg .goal { fill: var(--within-field); stroke: var(--within); stroke-width: 0.5; }
svg .point { fill: none; stroke: var(--quiet-ink); stroke-width: 2.8; stroke-linecap: round; stroke-opacity: 0.65; }
svg .point.strong { stroke-width: 4.5; stroke-opacity: 0.8; }
svg .mark { fill: none; stroke: var(--accent); stroke-width: 7; stroke-linecap: round; }
svg .whisker { stroke: var(--accent); stroke-width: 1.5; }
svg .band { fill: none; stroke: var(--ink); stroke-width: 1.75; }
svg .band-15 { stroke: var(--accent); stroke-dasharray: 7 2; }
svg .band-30 { stroke: var(--within); stroke-dasharray: 2 2; }
svg .band-45 { stroke: var(--attention); stroke-dasharray: 9 3 2 3; }
svg .band-60 { stroke: var(--stop); stroke-dasharray: 4 4; }
svg .bar { stroke: var(--ink); stroke-width: 0.75; }
svg .bar.filled { fill: var(--accent); }
svg .bar.open { fill: var(--raised); }
svg .bar.hatched { fill: url(#hatch); }
.hatch { stroke: var(--ink); stroke-width: 1.5; }
.table { overflow-x: auto; }
table { border-collapse: collapse; font-size: var(--text-small); }
caption { text-align: start; color: var(--quiet-ink); padding-block-end: var(--space-1); }
th, td { padding: var(--space-1) var(--space-3) var(--space-1) 0; text-align: start; font-weight: 400; border-block-end: 1px solid var(--line); white-space: nowrap; }
thead th { font-weight: 600; white-space: normal; vertical-align: bottom; }
@media print {
  body { padding: 0; font-size: 9pt; }
  .plots { grid-template-columns: repeat(3, 1fr); }
  table { font-size: 7.5pt; }
  th, td { padding-inline-end: 6pt; white-space: normal; }
  .table { overflow: visible; }
  thead { display: table-header-group; }
  tr { break-inside: avoid; }
}
`;
