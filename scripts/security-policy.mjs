/**
 * What the app's pages may load and do: the one definition, sent as headers by scripts/static-server.mjs and written
 * into the built pages by vite.config.ts, for servers that send no headers.
 */

/**
 * The server that passes invitations to a consult on, where the app is built for another one than that at its own address:
 * VITE_CONSULT_SERVER=wss://ADDRESS/PATH. Nothing but its origin is let through.
 */
function consultServer() {
  const address = process.env['VITE_CONSULT_SERVER'] ?? '';
  if (address === '') return [];
  const url = URL.canParse(address) ? new URL(address) : null;
  if (url === null || !['ws:', 'wss:'].includes(url.protocol))
    throw new Error(`VITE_CONSULT_SERVER: "${address}" is no address like wss://host/path.`);
  return [`${url.protocol}//${url.host}`];
}

/** Everything not named here is forbidden: inline scripts and styles, eval, other origins, frames, plug-ins, forms. */
const DIRECTIVES = {
  'default-src': "'none'",
  // The networks' runtimes are WebAssembly; 'wasm-unsafe-eval' allows that and no eval of text.
  'script-src': "'self' 'wasm-unsafe-eval'",
  'style-src': "'self'",
  'img-src': "'self'",
  // A clip of this machine plays beside its session from a blob: address.
  'media-src': "'self' blob:",
  'connect-src': ["'self'", ...consultServer()].join(' '),
  'worker-src': "'self'",
  'manifest-src': "'self'",
  'object-src': "'none'",
  'base-uri': "'none'",
  'form-action': "'none'",
  'frame-ancestors': "'none'",
};

/** These have no effect in a page's own meta tag, and browsers complain about them there. */
const ONLY_AS_HEADER = ['frame-ancestors'];

/** @param {readonly (readonly [string, string])[]} directives */
const join = (directives) => directives.map(([name, value]) => `${name} ${value}`).join('; ');

/** The Content-Security-Policy for a page's meta tag. */
export const META_POLICY = join(
  Object.entries(DIRECTIVES).filter(([name]) => !ONLY_AS_HEADER.includes(name)),
);

/** Sent with every answer. */
export const SECURITY_HEADERS = {
  'Content-Security-Policy': join(Object.entries(DIRECTIVES)),
  'Permissions-Policy':
    'camera=(self), display-capture=(self), screen-wake-lock=(self), microphone=(self), geolocation=(), payment=(), usb=()',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
};
