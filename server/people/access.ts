/** Who may call a route. Each route declares it; the server does not start with a route that does not. */
export const ROLES = ['keeper', 'technician', 'teacher', 'auditor'] as const;
export type Role = (typeof ROLES)[number];

/** `open`: without sign-in, now and later. A list: these roles once people exist. */
export type Access = 'open' | readonly Role[];

export const EVERYONE: Access = ROLES;
/** Registers vessels and instruments, weighs, corrects. */
export const BENCH: Access = ['keeper', 'technician'];
export const KEEPER: Access = ['keeper'];

/** Stands in the journal for every act made before the logbook knew people. */
export const UNNAMED_ACTOR = 'unnamed (before sign-in)';
/** Acts of a command run on the machine itself. */
export const CONSOLE_ACTOR = 'console';

declare module 'fastify' {
  interface FastifyContextConfig {
    access?: Access;
  }
  interface FastifyRequest {
    actor: string;
  }
}
