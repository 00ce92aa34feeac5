/**
 * Which names this server answers to. A page of another site can make its own name lead to this machine; the name it asks
 * by still gives it away.
 */
import { hostname, networkInterfaces } from 'node:os';

const LOCAL = ['localhost', '127.0.0.1', '[::1]'];
const LOOKED_UP_EVERY_MS = 5_000;

/** The name without port, small, without a closing point; null when there is none. */
export const nameOf = (host: string | undefined): string | null => {
  if (host === undefined) return null;
  const name = /^(\[[0-9a-f:.]+\]|[^\s:/\\@?#]+)(?::\d{1,5})?$/i.exec(host)?.[1];
  return name === undefined ? null : name.toLowerCase().replace(/\.$/, '');
};

const bracketed = (address: string): string => {
  const plain = address.split('%')[0] ?? address;
  return plain.includes(':') ? `[${plain.toLowerCase()}]` : plain;
};

const ownNames = (): string[] => {
  const name = hostname().toLowerCase();
  const short = name.split('.')[0] ?? name;
  const addresses = Object.values(networkInterfaces()).flatMap((list) =>
    (list ?? []).map((one) => bracketed(one.address)),
  );
  return [...LOCAL, name, short, `${short}.local`, ...addresses];
};

export class HostNames {
  readonly #configured: string | null;
  #settings: readonly string[] = [];
  #own: ReadonlySet<string> = new Set(ownNames());
  #lookedUpMs = Date.now();

  /** @param configured the address of HOST */
  constructor(configured: string | null) {
    this.#configured = configured === null ? null : bracketed(configured).toLowerCase();
  }

  /** Names a keeper entered in Settings. */
  replace(names: readonly string[]): void {
    this.#settings = names.map((name) => name.toLowerCase());
  }

  allows(host: string | undefined): boolean {
    const name = nameOf(host);
    if (name === null) return false;
    if (this.#own.has(name) || name === this.#configured || this.#settings.includes(name)) return true;
    return this.#hasBecomeOwn(name);
  }

  /** A machine gets new addresses while the server runs. */
  #hasBecomeOwn(name: string): boolean {
    if (Date.now() - this.#lookedUpMs < LOOKED_UP_EVERY_MS) return false;
    this.#lookedUpMs = Date.now();
    this.#own = new Set(ownNames());
    return this.#own.has(name);
  }
}
