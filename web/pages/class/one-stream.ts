/**
 * One tab of a browser holds the stream and tells the others: a browser opens six connections to a server at most, and a
 * stream keeps one. Of tabs that claim it at once the first by name has it; a tab that falls silent is followed by
 * another. BroadcastChannel does this on plain http too, where locks do not exist.
 */

type Message<T> = { from: string; kind: 'claim' | 'beat' | 'leave' | 'ask' } | { from: string; kind: 'news'; news: T };

interface Parts<T> {
  /** This tab holds the stream from now on. */
  onLead: () => void;
  onFollow: () => void;
  onNews: (news: T) => void;
  /** What another tab wants to hear when it comes in; null for nothing yet. */
  latest: () => T | null;
}

const BEAT_MS = 1_500;
const SILENCE_MS = 5_000;
const FIRST_WAIT_MS = 400;
/** So long a claim waits for another one. */
const CLAIM_MS = 150;

export class OneStream<T> {
  readonly #parts: Parts<T>;
  readonly #channel: BroadcastChannel;
  readonly #me = crypto.getRandomValues(new Uint32Array(2)).join('-');
  #leads = false;
  #isClaiming = false;
  #beat: ReturnType<typeof setInterval> | undefined;
  #silence: ReturnType<typeof setTimeout> | undefined;

  /** @returns null in a browser without channels: then each tab asks for itself */
  static open<T>(name: string, parts: Parts<T>): OneStream<T> | null {
    return typeof BroadcastChannel === 'undefined' ? null : new OneStream(name, parts);
  }

  private constructor(name: string, parts: Parts<T>) {
    this.#parts = parts;
    this.#channel = new BroadcastChannel(name);
    this.#channel.onmessage = ({ data }: MessageEvent<Message<T>>) => this.#hear(data);
    this.#say({ from: this.#me, kind: 'ask' });
    this.#listenFor(FIRST_WAIT_MS);
    window.addEventListener('pagehide', this.close);
  }

  /** Only the tab that holds the stream is believed. */
  tell(news: T): void {
    if (this.#leads) this.#say({ from: this.#me, kind: 'news', news });
  }

  readonly close = (): void => {
    if (this.#leads) this.#say({ from: this.#me, kind: 'leave' });
    this.#leads = false;
    clearInterval(this.#beat);
    clearTimeout(this.#silence);
    window.removeEventListener('pagehide', this.close);
    this.#channel.close();
  };

  #say(message: Message<T>): void {
    this.#channel.postMessage(message);
  }

  #hear(message: Message<T>): void {
    if (message.kind === 'ask') {
      if (this.#leads) this.#answer();
      return;
    }
    if (message.kind === 'leave') return this.#listenFor(Math.random() * FIRST_WAIT_MS);
    if (this.#isClaiming && message.kind === 'claim' && message.from > this.#me) return;
    // Whoever claims what is held heard nothing for long: this tab was asleep.
    if (this.#leads && message.kind === 'claim') this.#yield();
    if (this.#leads) return;
    this.#isClaiming = false;
    this.#listenFor(SILENCE_MS + Math.random() * BEAT_MS);
    if (message.kind === 'news') this.#parts.onNews(message.news);
  }

  #answer(): void {
    this.#say({ from: this.#me, kind: 'beat' });
    const news = this.#parts.latest();
    if (news !== null) this.tell(news);
  }

  /** Claims the stream unless somebody is heard of meanwhile. */
  #listenFor(silenceMs: number): void {
    clearTimeout(this.#silence);
    if (!this.#leads) this.#silence = setTimeout(() => this.#claim(), silenceMs);
  }

  #claim(): void {
    this.#isClaiming = true;
    this.#say({ from: this.#me, kind: 'claim' });
    this.#silence = setTimeout(() => this.#lead(), CLAIM_MS);
  }

  #lead(): void {
    this.#isClaiming = false;
    this.#leads = true;
    this.#beat = setInterval(() => this.#say({ from: this.#me, kind: 'beat' }), BEAT_MS);
    this.#parts.onLead();
  }

  #yield(): void {
    this.#leads = false;
    clearInterval(this.#beat);
    this.#parts.onFollow();
  }
}
