const PATIENCE_MS = 8_000;

/** Ends a request that gets no answer: in a school's network much is swallowed without a word. */
export const timeLimit = (): AbortSignal => {
  const controller = new AbortController();
  setTimeout(() => controller.abort(new DOMException('No answer in time.', 'TimeoutError')), PATIENCE_MS);
  return controller.signal;
};
