/** The demonstration cannot be loaded; the message says why in plain sentences. */
export class DemoRefused extends Error {}
