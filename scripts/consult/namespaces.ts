import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ROOT } from '../bootstrap.mjs';

/** Therapist, patient, and the network between them. */
const SPACES = { therapist: 'fa-t', patient: 'fa-p', between: 'fa-b' } as const;
type Space = keyof typeof SPACES;

export const ADDRESSES = {
  therapist: '10.77.1.2',
  patient: '10.77.2.2',
  besideTherapist: '10.77.1.1',
  besidePatient: '10.77.2.1',
} as const;
export const TURN_NAME = 'consult';
export const TURN_PASSWORD = 'of-this-test-only';

/** Two sides in network namespaces of their own. */
export interface Networks {
  /** Runs a command in one of them, in the background. It has written `sign` when this resolves. */
  readonly start: (space: Space, command: readonly string[], sign: RegExp) => Promise<ChildProcess>;
  /** A program that starts another one in a namespace, for who can start only programs. */
  readonly wrapper: (space: Space, program: string) => string;
  readonly within: (space: Space) => readonly string[];
  /** Lets the two reach each other directly, or not. */
  readonly setDirect: (isDirect: boolean) => void;
  /** Takes the patient's cable out, or puts it back. */
  readonly setPlugged: (isPlugged: boolean) => void;
  readonly close: () => void;
}

/** Makes the namespaces. Throws, with what the system said, where this machine or user may not. */
export function makeNetworks(): Networks {
  removeSpaces();
  const folder = mkdtempSync(join(tmpdir(), 'forearmed-networks-'));
  const children: ChildProcess[] = [];
  for (const space of Object.values(SPACES)) {
    ip('netns', 'add', space);
    ip('-n', space, 'link', 'set', 'lo', 'up');
  }
  for (const [side, here, there] of [
    ['therapist', ADDRESSES.therapist, ADDRESSES.besideTherapist],
    ['patient', ADDRESSES.patient, ADDRESSES.besidePatient],
  ] as const) {
    const [own, other] = [`${SPACES[side]}0`, `${SPACES[side]}1`];
    ip(
      'link',
      'add',
      own,
      'netns',
      SPACES[side],
      'type',
      'veth',
      'peer',
      'name',
      other,
      'netns',
      SPACES.between,
    );
    ip('-n', SPACES[side], 'addr', 'add', `${here}/24`, 'dev', own);
    ip('-n', SPACES.between, 'addr', 'add', `${there}/24`, 'dev', other);
    ip('-n', SPACES[side], 'link', 'set', own, 'up');
    ip('-n', SPACES.between, 'link', 'set', other, 'up');
  }
  const within = (space: Space): readonly string[] => ['ip', 'netns', 'exec', SPACES[space]];
  const setDirect = (isDirect: boolean): void => {
    run([...within('between'), 'sysctl', '-qw', `net.ipv4.ip_forward=${isDirect ? '1' : '0'}`]);
    for (const [side, gateway] of [
      ['therapist', ADDRESSES.besideTherapist],
      ['patient', ADDRESSES.besidePatient],
    ] as const)
      if (isDirect) ip('-n', SPACES[side], 'route', 'replace', 'default', 'via', gateway);
      else spawnSync('ip', ['-n', SPACES[side], 'route', 'del', 'default']);
  };
  setDirect(false);
  return {
    within,
    setDirect,
    setPlugged: (isPlugged) =>
      ip('-n', SPACES.between, 'link', 'set', `${SPACES.patient}1`, isPlugged ? 'up' : 'down'),
    wrapper: (space, program) => {
      const path = join(folder, space);
      // A browser is a session of its own, and the system shares its processors out among sessions first: what \`nice\` said of this command
      // counts for the browser too.
      const asNice = '{ nice > /proc/self/autogroup; } 2>/dev/null';
      writeFileSync(path, `#!/bin/sh\n${asNice}\nexec ${within(space).join(' ')} ${program} "$@"\n`);
      chmodSync(path, 0o755);
      return path;
    },
    start: (space, command, sign) =>
      new Promise((resolve, reject) => {
        const [program = '', ...args] = [...within(space), ...command];
        const child = spawn(program, args, { cwd: ROOT, stdio: ['ignore', 'pipe', 'inherit'] });
        children.push(child);
        let written = '';
        child.once('exit', () => reject(new Error(`${command.join(' ')} ended:\n${written}`)));
        child.stdout.on('data', (data: Buffer) => {
          written = (written + data.toString()).slice(-10_000);
          if (sign.test(written)) resolve(child);
        });
      }),
    close: () => {
      for (const child of children) child.kill();
      removeSpaces();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Debian's coturn between the two, with a name and a password, and relayed addresses on the therapist's side. */
export async function startTurn({ start }: Networks): Promise<void> {
  const { besideTherapist, besidePatient } = ADDRESSES;
  const listening = [besideTherapist, besidePatient, '127.0.0.1'].map(
    (address) => `--listening-ip=${address}`,
  );
  const command = [
    ...['turnserver', '-n', ...listening, `--relay-ip=${besideTherapist}`, '--listening-port=3478'],
    ...['--min-port=49160', '--max-port=49260', '--lt-cred-mech', `--user=${TURN_NAME}:${TURN_PASSWORD}`],
    ...['--realm=clinic.example', '--no-tls', '--no-dtls', '--no-cli', '--log-file=stdout', '--verbose'],
    ...['--pidfile=/dev/null', '--userdb=/dev/null'],
  ];
  await start('between', command, /Total General servers|IO method|IPv4\. UDP listener opened/);
}

function ip(...args: string[]): void {
  run(['ip', ...args]);
}

function run([command = '', ...args]: readonly string[]): void {
  const done = spawnSync(command, args, { encoding: 'utf8' });
  if (done.status !== 0) throw new Error(`${[command, ...args].join(' ')}: ${done.stderr}`);
}

function removeSpaces(): void {
  for (const space of Object.values(SPACES)) spawnSync('ip', ['netns', 'del', space]);
}
