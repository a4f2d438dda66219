import { accessSync, constants } from 'node:fs';
import { chromium, type Browser } from 'playwright-core';

const USUAL_PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

function isThere(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The browser to test in: the variable CHROMIUM, else the first of the usual places; null: none here. */
export function findChromium(): string | null {
  const named = process.env['CHROMIUM'];
  return [...(named ? [named] : USUAL_PLACES)].find(isThere) ?? null;
}

const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-dev-shm-usage',
  // Sound is measured without a hand on the mouse.
  '--autoplay-policy=no-user-gesture-required',
];

/** Starts the browser without a window. @throws where there is none, saying how to get one. */
export function launchChromium(): Promise<Browser> {
  const executablePath = findChromium();
  if (!executablePath) {
    throw new Error(
      'No Chromium is here. Install one (Debian: apt-get install chromium) or name it in the variable CHROMIUM.',
    );
  }
  return chromium.launch({ executablePath, headless: true, args: QUIET });
}
