/**
 * `npm run exchange-check`: packages against programs that others wrote. What is locked here is opened by Debian's `age`
 * and unzipped by Python; what `age` locks is opened here; tables are read by Python's csv module and by R where they are
 * there. Fails where `age` is not there and cannot be had.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { longCsv } from '../src/core/export/long-csv.ts';
import { framesCsv } from '../src/core/export/frames-csv.ts';
import { holdsCsv, repetitionsCsv } from '../src/core/export/judgement-csv.ts';
import { openedHere } from '../src/core/export/open-record.ts';
import type { Lock, OpeningKeys } from '../src/core/exchange/sealing.ts';
import { outlineOf } from '../src/core/session/record-opener.ts';
import {
  SAMPLE_HEADING,
  sampleFiles,
  sampleItems,
  sampleRecord,
  sealingHere,
} from '../tests/helpers/sample-package.ts';

const folder = mkdtempSync(join(tmpdir(), 'exchange-check-'));
const at = (name: string): string => join(folder, name);
let failures = 0;

function said(name: string, isRight: boolean, detail = ''): void {
  failures += isRight ? 0 : 1;
  console.log(`${isRight ? 'right' : 'WRONG'}  ${name}${detail === '' ? '' : `: ${detail}`}`);
}

/** The place of Debian's age: installed, or taken out of its package into the folder of this check. */
function findAge(): string | null {
  if (spawnSync('age', ['--version']).status === 0) return 'age';
  if (spawnSync('apt-get', ['download', 'age'], { cwd: folder, encoding: 'utf8' }).status !== 0) return null;
  const [file] = execFileSync('ls', [folder], { encoding: 'utf8' })
    .split('\n')
    .filter((name) => name.endsWith('.deb'));
  if (file === undefined || spawnSync('dpkg-deb', ['-x', at(file), at('age')]).status !== 0) return null;
  return at('age/usr/bin/age');
}

/** Opens a package by age and Python, and compares every file in it with what was put in. */
function openedByOthers(age: string, sealed: string, open: readonly string[], zip: string): string {
  const opening = spawnSync(age, ['-d', ...open, '-o', zip, sealed], { encoding: 'utf8' });
  if (opening.status !== 0) return `age: ${opening.stderr}`;
  const script =
    'import zipfile,sys\nz=zipfile.ZipFile(sys.argv[1])\nprint(z.testzip())\nprint("\\n".join(z.namelist()))';
  const python = spawnSync('python3', ['-c', script, zip], { encoding: 'utf8' });
  if (python.status !== 0) return `python3: ${python.stderr}`;
  const [damaged, ...names] = python.stdout.trim().split('\n');
  const wanted = ['manifest.json', ...sampleFiles().map(({ entry }) => entry.path)];
  return damaged === 'None' && names.join() === wanted.join() ? '' : python.stdout;
}

async function packages(age: string): Promise<void> {
  const sealing = sealingHere(18);
  const write = async (name: string, lock: Lock): Promise<string> => {
    const blob = await sealing.write(SAMPLE_HEADING, sampleFiles(), lock, () => undefined);
    writeFileSync(at(name), new Uint8Array(await blob.arrayBuffer()));
    return at(name);
  };
  const pair = await sealing.newKeyPair();
  writeFileSync(at('key.txt'), `${pair.secretKey}\n`);
  const byKey = await write('key.zip.age', { kind: 'key', publicKey: pair.publicKey });
  const plain = at('key.zip');
  const problem = openedByOthers(age, byKey, ['-i', at('key.txt')], plain);
  said('a package locked with a key opens with age, and Python unzips it', problem === '', problem);

  writeFileSync(at('other.txt'), `${(await sealing.newKeyPair()).secretKey}\n`);
  const other = spawnSync(age, ['-d', '-i', at('other.txt'), '-o', at('x'), byKey], { encoding: 'utf8' });
  said('age refuses it with another key', other.status !== 0, other.stderr.trim().split('\n')[0]);

  execFileSync(age, ['-r', pair.publicKey, '-o', at('theirs.age'), plain]);
  const keys: OpeningKeys = { secretKeys: [pair.secretKey], passphrase: null };
  const opening = await sealing.open(new Blob([readFileSync(at('theirs.age'))]), keys);
  const count = opening.kind === 'opened' ? opening.opened.manifest.entries.length : 0;
  said('what age locks opens here', count === sampleItems().length, opening.kind);

  const passphrase = 'twelve quiet bars in a row';
  const byPassphrase = await write('passphrase.zip.age', { kind: 'passphrase', passphrase });
  const typed = withTerminal(`${age} -d -o ${at('passphrase.zip')} ${byPassphrase}`, passphrase);
  const isSame = typed && readFileSync(at('passphrase.zip')).equals(readFileSync(plain));
  said('a package locked with a passphrase opens with age, byte for byte the same', isSame);

  const keyFile = await sealing.keyFile(pair, passphrase);
  writeFileSync(at('key.age'), new Uint8Array(await keyFile.arrayBuffer()));
  const unlocked = withTerminal(
    `${age} -d -i ${at('key.age')} -o ${at('by-key-file.zip')} ${byKey}`,
    passphrase,
  );
  said(
    'a saved key file opens packages with age',
    unlocked && readFileSync(at('by-key-file.zip')).equals(readFileSync(plain)),
  );
}

/** Runs a command in a terminal of its own and types a line: age reads passphrases from a terminal only. */
function withTerminal(command: string, line: string): boolean {
  const script = `import os,pty,sys
pid,fd=pty.fork()
if pid==0: os.execvp("sh",["sh","-c",sys.argv[1]])
seen=b""
while b":" not in seen: seen+=os.read(fd,1024)
os.write(fd,(sys.argv[2]+"\\n").encode())
try:
  while os.read(fd,1024): pass
except OSError: pass
sys.exit(os.waitstatus_to_exitcode(os.waitpid(pid,0)[1]))`;
  return spawnSync('python3', ['-c', script, command, line]).status === 0;
}

async function tables(): Promise<void> {
  const record = sampleRecord();
  const outline = outlineOf(record);
  const frames = await (await openedHere(record).framesFile()).text();
  for (const [name, csv] of [
    ['frames.csv', frames],
    ['repetitions.csv', repetitionsCsv(outline)],
    ['holds.csv', holdsCsv(outline)],
    ['empty frames.csv', framesCsv([])],
  ] as const) {
    writeFileSync(at('table.csv'), csv);
    const script = `import csv,sys
rows=list(csv.DictReader(open(sys.argv[1],newline=""),strict=True))
assert all(None not in r and None not in r.values() for r in rows)
angles=[float(r["elbow_flexion_deg"]) for r in rows if r.get("elbow_flexion_deg")]
print(len(rows),len(rows[0]) if rows else 0,round(max(angles),1) if angles else "")`;
    const python = spawnSync('python3', ['-c', script, at('table.csv')], { encoding: 'utf8' });
    said(
      `${name} is read by Python's csv`,
      python.status === 0,
      python.stdout.trim() || python.stderr.trim(),
    );
    const isThere = spawnSync('Rscript', ['--version']).status === 0;
    if (!isThere || name.startsWith('empty')) continue;
    const r = spawnSync('Rscript', ['-e', `d<-read.csv("${at('table.csv')}");cat(nrow(d),ncol(d))`], {
      encoding: 'utf8',
    });
    said(`${name} is read by R`, r.status === 0, r.stdout);
  }
  longTable(repetitionsCsv(outline), longCsv(outline));
}

/** The long table against the wide one, both as Python reads them: every figure with its unit and its interval. */
function longTable(wide: string, long: string): void {
  writeFileSync(at('wide.csv'), wide);
  writeFileSync(at('long.csv'), long);
  const script = `import csv,sys
read=lambda name: list(csv.DictReader(open(name,newline=""),strict=True))
wide,long=read(sys.argv[1]),read(sys.argv[2])
head=["session","set","repetition","quantity","value","unit","lower","upper"]
assert all(name in long[0] for name in head), list(long[0])
found={(r["set"],r["repetition"],r["quantity"],r["unit"]):r for r in long}
assert len(found)==len(long), "a measurement stands twice"
same=empty=0
for row in wide:
    for column,quantity,unit in (("range_deg","range","deg"),("lowering_s","lowering","s"),("torso_travel_cm","torso_travel","cm"),("trunk_sway_deg","trunk_sway","deg"),("lowering_speed_deg_per_s","lowering_speed","deg/s")):
        r=found[(row["set"],row["repetition"],quantity,unit)]
        assert r["value"]==row[column], (row,r)
        assert (r["value"]=="")==(r["not_measured"]!=""), r
        stem=column[:-len(column.split("_")[-1])]
        if stem+"low_"+column.split("_")[-1] in row:
            low,high=(row[stem+end+column.split("_")[-1]] for end in ("low_","high_"))
            assert [r["lower"],r["upper"]]==[low,high], (row,r)
            assert low=="" or float(low)<=float(r["value"])<=float(high)
        same+=r["value"]!=""
        empty+=r["value"]==""
assert same>0
print(len(long),"measurements,",same,"compared with the wide table,",empty,"not measured")`;
  const python = spawnSync('python3', ['-c', script, at('wide.csv'), at('long.csv')], { encoding: 'utf8' });
  said(
    "the long table is read by Python's csv and says what the wide one says",
    python.status === 0,
    python.stdout.trim() || python.stderr.trim(),
  );
}

try {
  const age = findAge();
  if (age === null) {
    console.error('Debian\'s "age" is not here: install it (apt-get install age) and run this again.');
    failures += 1;
  } else await packages(age);
  await tables();
} finally {
  rmSync(folder, { recursive: true });
}
process.exitCode = failures === 0 ? 0 : 1;
