/** Whether an address leads only to the machine that it is typed at: no phone reaches it. */
export function isOwnMachine(address: string): boolean {
  const host = /^(?:https?:\/\/)?(\[[^\]]*\]|[^/:#]*)/i.exec(address)?.[1]?.toLowerCase() ?? '';
  return host === 'localhost' || host.endsWith('.localhost') || host === '[::1]' || /^127(?:\.\d+){3}$/.test(host);
}
