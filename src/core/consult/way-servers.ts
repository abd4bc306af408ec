import type { Reading } from '../documents/read-document.ts';

/** A server that says by which address one is seen (STUN), or passes sealed packets on (TURN). */
export interface WayServer {
  readonly urls: string;
  readonly username?: string;
  readonly credential?: string;
}

/** Addresses as in RFC 7064 and RFC 7065. */
const ADDRESS =
  /^(stuns?:(?:[a-z0-9.-]{1,253}|\[[0-9a-f:.]{2,45}\])(?::\d{1,5})?|turns?:(?:[a-z0-9.-]{1,253}|\[[0-9a-f:.]{2,45}\])(?::\d{1,5})?(?:\?transport=(?:udp|tcp))?)$/i;
const IS_ADDRESS = /^(stun|turn)s?:/i;
/** More only make it slower: browsers ask all of them. */
const MOST_SERVERS = 4;
/** Characters of the whole text at most. */
export const MOST_SERVER_CHARACTERS = 500;

/**
 * The servers in a text like "stun:a.example turn:b.example USER PASSWORD", apart by spaces. The problem is the word that is none, or what
 * lacks a name and a password (a relay without them would be open to everybody).
 */
export function readWayServers(text: string): Reading<readonly WayServer[], string> {
  const servers: WayServer[] = [];
  const words = text.split(/\s+/).filter((word) => word !== '');
  for (let word = words.shift(); word !== undefined; word = words.shift()) {
    if (!ADDRESS.test(word) || servers.length >= MOST_SERVERS) return { ok: false, problem: word };
    if (word.toLowerCase().startsWith('stun')) servers.push({ urls: word });
    else {
      const [username, credential] = words.splice(0, 2);
      const isWhole = username !== undefined && credential !== undefined;
      if (!isWhole || IS_ADDRESS.test(username) || IS_ADDRESS.test(credential))
        return { ok: false, problem: word };
      servers.push({ urls: word, username, credential });
    }
  }
  return { ok: true, value: servers };
}
