/** What a key pair is called among the keys, before its public key. */
export const KEY_PAIR = 'key-pair:';
