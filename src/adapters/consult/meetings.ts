import type { Meetings } from '../../core/consult/meeting-post.ts';
import { sealerOf } from './sealed-text.ts';
import { openServerPost } from './server-post.ts';

/** Where `npm run consult:server` passes texts on, beside the app that it serves. */
const BESIDE_THE_APP = 'consult/peerjs';

/** The server that passes texts on: the one that the app was built for, or else the one at the app's own address. */
export function meetingsAt(appAddress: URL): Meetings {
  const configured: unknown = import.meta.env['VITE_CONSULT_SERVER'];
  const isNamed = typeof configured === 'string' && configured !== '';
  const address = new URL(isNamed ? configured : BESIDE_THE_APP, appAddress);
  if (!isNamed) address.protocol = appAddress.protocol === 'https:' ? 'wss:' : 'ws:';
  return {
    origin: address.origin,
    open: (place, ears) => openServerPost(address.href, place, ears),
    sealerOf,
  };
}
