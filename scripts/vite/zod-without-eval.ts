import type { Plugin } from 'vite';

const SETTING = 'export const globalConfig = globalThis.__zod_globalConfig;';

/**
 * Tells zod, before the first schema is made, not to compile schemas with `new Function`: the policy forbids that, and
 * even zod's question whether it may is reported as a violation. Done in zod's own module, because the order in which a
 * bundle's chunks run would not promise that a line in our entries comes first.
 */
export function zodWithoutEval(): Plugin {
  return {
    name: 'zod-without-eval',
    apply: 'build',
    transform(code, id) {
      if (!/\/zod\/v4\/core\/core\.js$/.test(id)) return null;
      if (!code.includes(SETTING))
        this.error('zod keeps its configuration elsewhere now: see zod-without-eval.ts.');
      return { code: `${code}\nglobalConfig.jitless = true;\n`, map: null };
    },
  };
}
