import './state/set-secret.ts';
import './style/fonts.css';
import './style/tokens.css';
import './style/base.css';
import './style/music.css';
import './style/print.css';
import { mount } from 'svelte';
import App from './App.svelte';

const target = document.getElementById('app');
if (target) mount(App, { target });

/** The app's own files are kept for a start without a network: when the page is at rest, and where it is secure. */
function keepTheApp(): void {
  // Where a browser will not have it, everything works as long as there is a network.
  void navigator.serviceWorker.register('/sw.js').catch(() => undefined);
}

function atRest(work: () => void): void {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work, { timeout: 5000 });
  else setTimeout(work, 2000);
}

if (import.meta.env.PROD && 'serviceWorker' in navigator) atRest(keepTheApp);
// Changes that an earlier start could not send.
atRest(() => void import('./state/kept-sending.ts').then(({ sendWhatWaits }) => sendWhatWaits()));
