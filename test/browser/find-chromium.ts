/**
 * Which Chromium the browser tests drive: the one named by CHROMIUM_PATH, else one installed on this machine (Chromium
 * without windows, which works half as long for the same page, Chromium, Chrome, Edge), else one brought from npm into a
 * git-ignored folder. Each candidate must really start.
 */
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const BUNDLE = '@sparticuz/chromium';
/** The newest release that declares Node 20. */
const BUNDLE_VERSION = '147.0.0';
const bundleFolder = fileURLToPath(new URL('../../.cache/chromium/', import.meta.url));
const bundleStarter = join(bundleFolder, 'chromium');

/** @throws Error that says what was tried and what to do, when no browser starts. */
export async function obtainChromium(): Promise<string> {
  const named = process.env['CHROMIUM_PATH'];
  if (named) {
    const refusal = await whyNotStarting(named);
    if (refusal) throw new Error(`CHROMIUM_PATH names ${named}, which does not start: ${refusal}`);
    return named;
  }
  const tried: string[] = [];
  for (const path of [...installedBrowsers(), bundleStarter].filter((candidate) => existsSync(candidate))) {
    const refusal = await whyNotStarting(path);
    if (!refusal) return path;
    tried.push(`${path}: ${refusal}`);
  }
  try {
    return await bringBundle();
  } catch (error) {
    tried.push(`${BUNDLE} ${BUNDLE_VERSION} from npm: ${messageOf(error)}`);
  }
  throw new Error(
    [
      'The browser tests need a Chromium, and none could be started. Install Chromium, Chrome or Edge,',
      'or name one in CHROMIUM_PATH. Tried:',
      ...tried.map((line) => `  ${line}`),
    ].join('\n'),
  );
}

/** Paths where the systems keep a Chromium; they need not exist. */
function installedBrowsers(): string[] {
  if (process.platform === 'win32') {
    const folders = ['ProgramFiles', 'ProgramFiles(x86)', 'LocalAppData'].map((name) => process.env[name]);
    const programs = ['Google/Chrome/Application/chrome.exe', 'Chromium/Application/chrome.exe'];
    programs.push('Microsoft/Edge/Application/msedge.exe');
    return folders.flatMap((folder) => (folder ? programs.map((program) => join(folder, program)) : []));
  }
  if (process.platform === 'darwin') {
    const programs = ['Chromium', 'Google Chrome', 'Microsoft Edge'];
    return ['/Applications', join(homedir(), 'Applications')].flatMap((folder) =>
      programs.map((program) => join(folder, `${program}.app`, 'Contents', 'MacOS', program)),
    );
  }
  const programs = ['chromium-headless-shell', 'chromium', 'chromium-browser'];
  programs.push('google-chrome', 'google-chrome-stable', 'microsoft-edge');
  const folders = (process.env['PATH'] ?? '').split(delimiter).filter((folder) => folder !== '');
  return programs.flatMap((program) => folders.map((folder) => join(folder, program)));
}

/** Undefined when it starts and opens a page. */
async function whyNotStarting(executablePath: string): Promise<string | undefined> {
  try {
    const browser = await chromium.launch({ executablePath, timeout: 30_000 });
    try {
      const page = await browser.newPage();
      await page.setContent('<p>12.500</p>');
      await page.innerText('p');
    } finally {
      await browser.close();
    }
    return undefined;
  } catch (error) {
    return messageOf(error);
  }
}

/** Installs the browser package without saving it, unpacks it beside its own libraries, and checks that it starts. */
async function bringBundle(): Promise<string> {
  if (process.platform !== 'linux' || process.arch !== 'x64') throw new Error('made for Linux on x64 only');
  process.stdout.write(`No Chromium found: bringing ${BUNDLE} ${BUNDLE_VERSION} from npm into .cache/chromium …\n`);
  mkdirSync(bundleFolder, { recursive: true });
  const wanted = `${BUNDLE}@${BUNDLE_VERSION}`;
  run('npm', ['install', '--prefix', bundleFolder, '--no-save', '--no-audit', '--no-fund', wanted]);
  const unpacked = join(bundleFolder, 'unpacked');
  const unpacking = join(bundleFolder, `unpacking-${String(process.pid)}`);
  mkdirSync(unpacking, { recursive: true });
  // It unpacks into the temporary folder, and its shared libraries only where it believes to run as a cloud function.
  run(
    process.execPath,
    ['--input-type=module', '--eval', `await (await import('${BUNDLE}')).default.executablePath()`],
    {
      cwd: bundleFolder,
      env: { ...process.env, TMPDIR: unpacking, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' },
    },
  );
  writeFileSync(join(unpacking, 'fonts', 'fonts.conf'), FONTS_CONF);
  rmSync(unpacked, { recursive: true, force: true });
  renameSync(unpacking, unpacked);
  writeFileSync(bundleStarter, STARTER);
  chmodSync(bundleStarter, 0o755);
  const refusal = await whyNotStarting(bundleStarter);
  if (refusal) throw new Error(refusal);
  return bundleStarter;
}

const FONTS_CONF = `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir prefix="relative">fonts</dir>
  <dir>/usr/share/fonts</dir>
  <cachedir prefix="xdg">fontconfig</cachedir>
</fontconfig>
`;

const STARTER = `#!/bin/sh
here=$(cd "$(dirname "$0")/unpacked" && pwd)
export LD_LIBRARY_PATH="$here/al2023/lib\${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}"
export FONTCONFIG_PATH="$here/fonts"
exec "$here/chromium" "$@"
`;

function run(command: string, words: string[], options: { cwd?: string; env?: NodeJS.ProcessEnv } = {}): void {
  const done = spawnSync(command, words, { ...options, encoding: 'utf8' });
  if (done.error) throw done.error;
  if (done.status !== 0) throw new Error(`${command} ended with ${String(done.status)}: ${done.stderr.trim()}`);
}

/** Playwright's messages carry the whole command line; the first lines say why. */
function messageOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  const wrong = text.split('\n').filter((line) => /error|FATAL|not found|cannot|ENOENT|closed/i.test(line));
  return (wrong.length > 0 ? wrong : text.split('\n')).slice(0, 3).join(' / ').slice(0, 500);
}
