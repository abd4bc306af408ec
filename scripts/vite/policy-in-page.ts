import type { Plugin } from 'vite';
import { META_POLICY } from '../security-policy.mjs';

/** Writes the policy into the built pages, before everything that it governs. Development needs inline styles. */
export function policyInPage(): Plugin {
  return {
    name: 'policy-in-page',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: META_POLICY },
        injectTo: 'head-prepend',
      },
    ],
  };
}
