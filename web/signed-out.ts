/** Whether the server wants somebody to sign in. What it refused for that reason waits here and is asked again. */
let isOut = false;
const listeners = new Set<() => void>();
let waiting: (() => void)[] = [];

const tell = (): void => listeners.forEach((listener) => listener());

export const subscribeSignedOut = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};
export const isSignedOut = (): boolean => isOut;

export const noteSignedOut = (): void => {
  if (isOut) return;
  isOut = true;
  tell();
};

/** Somebody signed in: what waited goes on. */
export const noteSignedIn = (): void => {
  isOut = false;
  const released = waiting;
  waiting = [];
  for (const go of released) go();
  tell();
};

/** Resolves once somebody signed in; rejects when the page no longer wants to know. */
export const whenSignedIn = (signal: AbortSignal | undefined): Promise<void> => {
  noteSignedOut();
  return new Promise((resolve, reject) => {
    waiting.push(resolve);
    signal?.addEventListener('abort', () => {
      waiting = waiting.filter((one) => one !== resolve);
      reject(signal.reason as Error);
    });
  });
};
