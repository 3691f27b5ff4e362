/**
 * Shows the real wall in one state, named by the address: `#/want-number`. The case
 * is a real session on a memory record; only the ear and the services around it are
 * set by hand. `?theme=light` asks for the light theme.
 */
import { mount, unmount } from 'svelte';
import type { Fault } from '../../../src/domain';
import { AppModel } from '../../../src/ui/app-model.svelte';
import type { AppServices, EarStatus } from '../../../src/ui/services';
import WallScreen from '../../../src/ui/wall/WallScreen.svelte';
import '../../../src/ui/theme.css';
import { HandClock } from '../../support/hand-clock';
import type { SampleCase } from '../../support/sample-case';
import { LISTENING, reachState, STATES } from './states';
import { clippedTexts, overlappingTexts, smallTexts } from './text-boxes';

export interface GalleryFrame {
  readonly ear?: EarStatus;
  readonly storageFault?: Fault;
}

function makeServices(sample: SampleCase | null, frame: GalleryFrame): AppServices {
  const clock = sample?.clock ?? new HandClock();
  const nothing = () => () => undefined;
  const refuse = () => Promise.reject(new Error('The gallery only shows'));
  return {
    now: () => ({ at: clock.wallMs(), mono: clock.monoMs(), run: 'run-1' as never }),
    procedures: [],
    shelf: {} as never,
    describeProcedure: () => {
      throw new Error('The gallery only shows');
    },
    currentCase: () => sample?.session ?? null,
    onCaseChange: nothing,
    openCase: refuse,
    leaveCase: refuse,
    listCases: refuse,
    manyCases: {
      watch: nothing,
      cancel: () => undefined,
      look: refuse,
      lookBeside: refuse,
      save: refuse,
      bring: refuse,
      mark: refuse,
      unmark: refuse,
      keepHours: refuse,
      forgetAside: refuse,
      addDemo: refuse,
      resume: refuse,
    },
    // The gallery shows no voice screen.
    voice: undefined as never,
    cards: {
      languages: [{ tag: 'en-GB', name: 'English' }],
      list: () => Promise.resolve({ ok: true, value: [] }),
    } as never,
    labels: {
      take: refuse,
      learn: refuse,
      wedge: () => ({ prefix: '', suffix: '', separator: '' }),
      setWedge: refuse,
      watchCamera: nothing,
      saveList: refuse,
    },
    readCase: refuse,
    readHistory: () => Promise.resolve({ ok: true, value: [] }),
    exportCase: refuse,
    keeping: {
      lockState: refuse, setLock: refuse, unlock: refuse, lockNow: () => undefined,
      version: refuse, lookForVersion: refuse, takeVersion: refuse,
      room: refuse, askToPersist: refuse, saveAll: refuse, importFiles: refuse, backupFolder: refuse,
      chooseBackupFolder: refuse, forgetBackupFolder: refuse, listOld: refuse, removeCases: refuse,
      listRemoved: refuse,
    }, // prettier-ignore
    isWriter: () => true,
    storageFault: () => frame.storageFault ?? null,
    earStatus: () => frame.ear ?? LISTENING,
    onEarChange: nothing,
    startListening: refuse,
    stopListening: refuse,
    rehearsalStatus: () => ({ isRunning: false, saying: null, done: 0, total: 0, fault: null }),
    onRehearsalChange: nothing,
    startRehearsal: refuse,
    stopRehearsal: refuse,
  };
}

let takeDown: () => void = () => undefined;

async function show(name: string): Promise<void> {
  const target = document.querySelector('#app');
  if (!target) throw new Error('The page has no #app');
  delete document.body.dataset['ready'];
  takeDown();
  const theme = new URLSearchParams(location.search).get('theme');
  if (theme) document.documentElement.dataset['theme'] = theme;
  const { sample, frame, last } = await reachState(name);
  const app = new AppModel(makeServices(sample, frame));
  const stop = app.start(window);
  const wall = mount(WallScreen, { target, props: { app } });
  takeDown = () => {
    stop();
    void unmount(wall);
  };
  // Said with the wall looking on, for what is seen only as it happens.
  await last?.();
  await document.fonts.ready;
  document.body.dataset['ready'] = name;
}

function showNamed(): void {
  void show(location.hash.replace(/^#\/?/, '') || 'want-number');
}

/** What tests of the screen call inside the page. */
export const textChecks = { clippedTexts, overlappingTexts, smallTexts };

Object.assign(window, { textChecks });
document.documentElement.dataset['states'] = Object.keys(STATES).join(' ');
window.addEventListener('hashchange', showNamed);
showNamed();
