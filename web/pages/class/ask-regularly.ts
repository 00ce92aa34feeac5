const EVERY_MS = 5_000;

/** Asks now, every few seconds, and whenever somebody looks at the page again. @returns how to end it */
export const askRegularly = (ask: () => void): (() => void) => {
  const askIfSeen = (): void => void (document.visibilityState === 'visible' && ask());
  askIfSeen();
  const timer = setInterval(askIfSeen, EVERY_MS);
  window.addEventListener('focus', askIfSeen);
  window.addEventListener('online', askIfSeen);
  document.addEventListener('visibilitychange', askIfSeen);
  return () => {
    clearInterval(timer);
    window.removeEventListener('focus', askIfSeen);
    window.removeEventListener('online', askIfSeen);
    document.removeEventListener('visibilitychange', askIfSeen);
  };
};
