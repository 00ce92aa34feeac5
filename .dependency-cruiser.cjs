// @ts-check
/** The arrows of the house: who may import whom. Types count as well; `type-only` imports are named where they alone are allowed. */

const PURE_LIBRARIES = '^node_modules/(simple-statistics|@stdlib|pure-rand)/';
/** Small files beside app.ts that every folder may use: refusals, the clock, request headers … */
const HELPERS = '^server/(?!app\\.ts|main\\.ts)[^/]+\\.ts$';
const WIRE_TYPES = '^server/(.+/contract[^/]*|wire|problem)\\.ts$';

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    { name: 'no-unresolved', severity: 'error', from: {}, to: { couldNotResolve: true } },
    {
      name: 'nothing-from-development',
      comment: 'What runs in production imports no test and no package that only development installs.',
      severity: 'error',
      from: { path: '^(server|web|migrations)/' },
      to: { path: '^test/' },
    },
    {
      name: 'no-development-package',
      severity: 'error',
      from: { path: '^(server|web|migrations)/' },
      to: { dependencyTypes: ['npm-dev'] },
    },
    {
      name: 'metrology-is-pure',
      comment: 'It runs in the browser too: no I/O, no clock, no database, only arithmetic libraries and the tables.',
      severity: 'error',
      from: { path: '^server/metrology/' },
      to: { pathNot: ['^server/metrology/', '^fixtures/tables/', PURE_LIBRARIES] },
    },
    {
      name: 'contract-is-a-shape',
      comment: 'A wire shape knows zod, the shapes it is made of and the words of the computation.',
      severity: 'error',
      from: { path: '^server/[^/]+/contract[^/]*\\.ts$' },
      to: {
        pathNot: [
          '^node_modules/zod/',
          '^server/metrology/',
          '^server/wire\\.ts$',
          '^server/[^/]+/contract[^/]*\\.ts$',
        ],
      },
    },
    {
      name: 'store-is-sql',
      comment: 'A store knows the database, the journal, its own folder and what other stores read; no HTTP.',
      severity: 'error',
      from: { path: '^server/([^/]+)/store[^/]*\\.ts$' },
      to: {
        path: '^(server|web|node_modules/(fastify|@fastify))/',
        pathNot: ['^server/$1/', '^server/(db|journal|metrology)/', '^server/[^/]+/store[^/]*\\.ts$', HELPERS],
      },
    },
    {
      name: 'store-below-view',
      comment: 'A view turns what is stored into what is sent; a store knows nothing of it.',
      severity: 'error',
      from: { path: '^server/[^/]+/store[^/]*\\.ts$' },
      to: { path: '^server/[^/]+/(view|routes)[^/]*\\.ts$' },
    },
    {
      name: 'store-below-routes',
      severity: 'error',
      from: { path: '^server/', pathNot: ['^server/app\\.ts$', '^server/[^/]+/routes[^/]*\\.ts$'] },
      to: { path: '^server/[^/]+/routes[^/]*\\.ts$' },
    },
    {
      name: 'routes-stay-home',
      comment:
        'Routes call their own folder and what other folders offer, their stores and views; never their routes or inner files.',
      severity: 'error',
      from: { path: '^server/([^/]+)/routes[^/]*\\.ts$' },
      to: {
        path: ['^server/', '^web/'],
        pathNot: [
          '^server/$1/',
          '^server/[^/]+/(store|view|contract)[^/]*\\.ts$',
          '^server/(db|journal|people|metrology)/',
          HELPERS,
        ],
      },
    },
    {
      name: 'routes-hold-no-sql',
      severity: 'error',
      from: { path: '^server/[^/]+/routes[^/]*\\.ts$' },
      to: { path: '^node_modules/(kysely|better-sqlite3)/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'commands-are-the-end',
      comment: 'Commands call the house; nothing calls a command.',
      severity: 'error',
      from: { path: '^(server|web|migrations)/', pathNot: '^server/commands/' },
      to: { path: '^server/commands/' },
    },
    {
      name: 'server-knows-no-pages',
      comment: 'Plots are pure: the certificate draws them too.',
      severity: 'error',
      from: { path: '^(server|migrations)/' },
      to: { path: '^web/', pathNot: '^web/plots/' },
    },
    {
      name: 'pages-see-types-only',
      comment: 'Of the server, pages import contract types, the list of refusals and the computation; nothing else.',
      severity: 'error',
      from: { path: '^web/' },
      to: {
        path: '^(server|migrations|test|fixtures|\\.build)/',
        pathNot: ['^server/metrology/', '^server/problem-codes\\.ts$', WIRE_TYPES],
      },
    },
    {
      name: 'pages-run-in-a-browser',
      severity: 'error',
      from: { path: '^web/', pathNot: '^web/vite\\.config\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'wire-shapes-in-pages-are-types',
      severity: 'error',
      from: { path: '^web/' },
      to: { path: WIRE_TYPES, dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'plots-are-pure',
      severity: 'error',
      from: { path: '^web/plots/' },
      to: { path: ['^server/', '^web/'], pathNot: ['^web/plots/', '^server/metrology/'] },
    },
    {
      name: 'messages-are-text',
      severity: 'error',
      from: { path: '^web/messages/' },
      to: { pathNot: ['^web/messages/', '^server/(metrology|problem-codes)', WIRE_TYPES] },
    },
    {
      name: 'migrations-stand-alone',
      comment: 'A released migration never changes; nothing it imports may either.',
      severity: 'error',
      from: { path: '^migrations/' },
      to: { pathNot: ['^migrations/', '^node_modules/(kysely|better-sqlite3)/'], dependencyTypesNot: ['core'] },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default', 'types'] },
    exclude: { path: '^(\\.dist|\\.cache)' },
  },
};
