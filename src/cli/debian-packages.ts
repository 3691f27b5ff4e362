/**
 * What the tests need beside npm packages. Installed with apt-get where that is
 * possible (Debian, as root); elsewhere it is said what is missing and what that means.
 */
import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { runProgram } from './run-program';

interface DebianPackage {
  readonly name: string;
  /** A program on the path, or a file, that proves the package is there. */
  readonly proof: string;
  /** What can't be tested without it. */
  readonly use: string;
}

const PACKAGES: readonly DebianPackage[] = [
  { name: 'chromium', proof: 'chromium', use: 'every test in a browser' },
  { name: 'flite', proof: 'flite', use: 'making what a rehearsal’s people say' },
  { name: 'sox', proof: 'sox', use: 'making what a rehearsal’s people say' },
  {
    name: 'espeak-ng',
    proof: 'espeak-ng',
    use: 'speaking to the wall in voices that it was not trained on',
  },
  { name: 'opus-tools', proof: 'opusenc', use: 'making what a rehearsal’s people say' },
  {
    name: 'libreoffice-calc-nogui',
    proof: 'soffice',
    use: 'opening our CSV files in a spreadsheet',
  },
  { name: 'poppler-utils', proof: 'pdftotext', use: 'reading the printed report' },
  { name: 'pulseaudio', proof: 'pulseaudio', use: 'pulling a microphone out of a browser' },
  { name: 'pulseaudio-utils', proof: 'paplay', use: 'pulling a microphone out of a browser' },
  {
    name: 'pocketsphinx-testdata',
    proof: '/usr/share/pocketsphinx/test/data',
    use: 'listening to human recordings of digits and cards',
  },
  {
    name: 'asterisk-core-sounds-en-wav',
    proof: '/usr/share/asterisk/sounds/en_US_f_Allison',
    use: 'listening to human recordings of numbers',
  },
];

/** Where the tests look for Chromium. */
export const CHROMIUM_PATH = process.env['CHROMIUM_PATH'] ?? '/usr/bin/chromium';

/** Installs what is missing if it can, and says what is still missing afterwards; of these names where some are given. */
export async function installDebianPackages(names?: readonly string[]): Promise<void> {
  const wanted = PACKAGES.filter(
    ({ name, proof }) => (names?.includes(name) ?? true) && !isPresent(proof),
  );
  if (wanted.length === 0) return;
  if (canInstall()) await install(wanted.map(({ name }) => name));
  for (const { name, use, proof } of wanted) {
    if (isPresent(proof)) continue;
    console.error(`Missing: Debian package "${name}". Skipped without it: ${use}.`);
  }
}

async function install(names: readonly string[]): Promise<void> {
  console.error(`Installing Debian packages for the tests: ${names.join(' ')}.`);
  const env = { DEBIAN_FRONTEND: 'noninteractive' };
  const updated = await runProgram('apt-get', ['update', '-qq'], env);
  if (updated !== 0) return;
  await runProgram('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...names], env);
}

/** Whether this is Debian (or a child of it) and we may install. */
function canInstall(): boolean {
  const isRoot = process.getuid?.() === 0;
  return isRoot && existsSync('/etc/debian_version') && existsSync('/usr/bin/apt-get');
}

function isPresent(proof: string): boolean {
  if (proof.startsWith('/')) return existsSync(proof);
  const folders = (process.env['PATH'] ?? '').split(delimiter);
  return folders.some((folder) => existsSync(join(folder, proof)));
}
