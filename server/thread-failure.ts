/** What a thread says when it cannot go on: an error loses its code on the way through. */
export interface Failed {
  message: string;
  code: string | null;
}

export const failedOf = (error: unknown): Failed => ({
  message: error instanceof Error ? error.message : String(error),
  code: error instanceof Error && 'code' in error ? String(error.code) : null,
});

export const errorOf = ({ message, code }: Failed): Error =>
  code === null ? new Error(message) : Object.assign(new Error(message), { code });
