/** Imports point inward. Each rule's comment is what a failing check prints: the reason, not only the ban. */
const CORE_ORDER = [
  [
    'documents',
    'math|signal|pose|kinematics|exercises|loads|plan|feedback|session|review|exchange|backup|consult|export',
  ],
  [
    'math',
    'signal|pose|kinematics|exercises|loads|plan|feedback|session|review|exchange|backup|consult|export',
  ],
  ['signal', 'pose|kinematics|exercises|loads|plan|feedback|session|review|exchange|backup|consult|export'],
  ['pose', 'kinematics|exercises|loads|plan|feedback|session|review|exchange|backup|consult|export'],
  ['kinematics', 'exercises|loads|plan|feedback|session|review|exchange|backup|consult|export'],
  ['exercises', 'loads|plan|feedback|session|review|exchange|backup|consult|export'],
  ['loads', 'plan|feedback|session|review|exchange|backup|consult|export'],
  ['plan', 'feedback|session|review|exchange|backup|consult|export'],
  ['feedback', 'export'],
  ['session', 'review|backup|consult|export'],
  ['review', 'exchange|backup|consult|export'],
  ['exchange', 'consult|export'],
  ['backup', 'consult|export'],
  ['consult', 'feedback|export'],
];

module.exports = {
  forbidden: [
    {
      name: 'core-is-pure',
      comment:
        'core imports only core, zod, fflate and the hashes of noble: it must run without browser, clock or storage, so that a record can be computed again anywhere.',
      severity: 'error',
      from: { path: '^src/core' },
      to: { pathNot: ['^src/core', 'node_modules/(zod|fflate|@noble/hashes)/'] },
    },
    ...CORE_ORDER.map(([inner, outer]) => ({
      name: `core-${inner}-points-inward`,
      comment: `core/${inner} is further in than what it imports here: a change in judging or storing must never be able to change it.`,
      severity: 'error',
      from: { path: `^src/core/${inner}/` },
      to: { path: `^src/core/(${outer})/` },
    })),
    {
      name: 'adapters-know-only-core',
      comment:
        'an adapter serves an interface of core; it must not know screens, state or another adapter, so that each can be replaced alone.',
      severity: 'error',
      from: { path: '^src/adapters/([^/]+)/' },
      to: { path: '^src', pathNot: ['^src/core', '^src/adapters/$1/'] },
    },
    {
      name: 'state-gets-adapters-handed-in',
      comment:
        'state imports core only; concrete adapters arrive from main.ts, so that state runs in a test with real data and no device.',
      severity: 'error',
      from: { path: '^src/state' },
      to: { path: '^src', pathNot: ['^src/core', '^src/state'] },
    },
    {
      name: 'ui-never-reaches-adapters',
      comment:
        'screens show state; a device, the store or the network reached from a screen cannot be tested or replaced.',
      severity: 'error',
      from: { path: '^src/ui' },
      to: { path: '^src', pathNot: ['^src/core', '^src/state', '^src/ui'] },
    },
    {
      name: 'only-entries-join-all',
      comment:
        'only the entry files (the pages and their workers) join adapters to the rest; a page starts a worker by its address and never imports it.',
      severity: 'error',
      from: { path: '^src' },
      to: { path: '^src/(main|measure-page|[^/]+-worker)[.]ts$' },
    },
    {
      name: 'only-main-joins-later',
      comment:
        'join-later.ts is the second half of the main page: what it joins is handed to the screens, never fetched by them.',
      severity: 'error',
      from: { path: '^src', pathNot: '^src/main[.]ts$' },
      to: { path: '^src/(join-later|open-pose)[.]ts$' },
    },
    {
      name: 'product-never-imports-tooling',
      comment: 'the app must not carry tests, scripts or the figure generator.',
      severity: 'error',
      from: { path: '^src' },
      to: { path: '^(tests|scripts|demo-clips)/' },
    },
    {
      name: 'no-cycles',
      comment: 'two files that need each other are one idea in two places, or two ideas in the wrong places.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { extensions: ['.ts', '.js', '.mjs', '.svelte'] },
  },
};
