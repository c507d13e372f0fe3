// The arrows of the house as rules for dependency-cruiser. Which folder may look at which stands in folder-order.json.
// Proved one by one in violations.test.ts. A rule here is an error, and there is no list of exemptions.
const order = require('./folder-order.json')

const any = (names) => `(${names.join('|')})`
const npm = (...names) => `(^|/)node_modules/${any(names.map((name) => name.replace('/', '\\/')))}(/|$)`
const ROLE = '-(contract|store|answers|paper|work)\\.ts$'
const ROOMS = `^core/${any(order.rooms)}/(?!work-contract)`
const DOOR = `^core/${any(order.door)}\\.ts$`
const CONTRACT_DOOR = `^core/${any(order.contractDoor)}\\.ts$`
const NOT_PURE = [ROLE, ROOMS, DOOR, CONTRACT_DOOR]
const PURE = { path: '^core/.+\\.ts$', pathNot: NOT_PURE }
const CONTRACT = ['^core/.+-contract\\.ts$', CONTRACT_DOOR]
const SUFFIX = (role) => `^core/.+-${role}\\.ts$`
const ORPC_CONTRACT = npm('@orpc/contract')
const ZOD = npm('zod')

const rule = (name, comment, from, to) => ({ name, comment, severity: 'error', from, to })

/** One rule a folder: it may look at folders that stand left of it in the order, and at itself. */
// The last folder may look at all of them.
const folderArrows = order.jobFolders.slice(0, -1).flatMap((group, place) =>
  group.map((folder) => {
    const closed = order.jobFolders
      .slice(place)
      .flat()
      .filter((other) => other !== folder && !order.openToAll.includes(other))
    return rule(
      `${folder}-looks-only-left`,
      `core/${folder} may import core folders left of it in folder-order.json, and none beside or right of it.`,
      { path: `^core/${folder}/` },
      { path: `^core/${any(closed)}/` },
    )
  }),
)

/** Plain shapes may be named from further away than code may be used: `import type` leaves nothing behind at run time. */
const USED = { dependencyTypesNot: ['type-only'] }

const roles = [
  rule(
    'pure-imports-only-pure',
    'Pure code sees pure code, zod and tables of data; no database, no paper, no Node.',
    PURE,
    {
      pathNot: ['^core/', '^assets/.+\\.json$', ZOD],
    },
  ),
  rule('pure-has-no-role-files', 'Pure code imports no store, answers, paper, work, room or door.', PURE, {
    path: ['-(store|answers|paper|work)\\.ts$', ROOMS, DOOR],
  }),
  rule(
    'pure-knows-of-contracts-only-shapes',
    'Pure code may name the shapes of a contract; it uses no code of it.',
    PURE,
    {
      path: CONTRACT,
      ...USED,
    },
  ),
  rule(
    'contract-imports-only-pure',
    'A contract is names and shapes: pure files, zod and the contract library.',
    { path: CONTRACT },
    { pathNot: ['^core/', ZOD, ORPC_CONTRACT] },
  ),
  rule(
    'contract-has-no-role-files',
    'A contract may import other contracts, and no store, answers, paper, work, room or door.',
    { path: CONTRACT },
    { path: ['-(store|answers|paper|work)\\.ts$', ROOMS, DOOR] },
  ),
  rule(
    'store-imports-no-answers',
    'A store knows pure files, stores and the database room; no answers, paper, work or door.',
    { path: SUFFIX('store') },
    {
      path: ['-(answers|paper|work)\\.ts$', '^core/(paper|work)/', DOOR, CONTRACT_DOOR],
      pathNot: '^core/answering\\.ts$',
    },
  ),
  rule(
    'store-knows-of-contracts-only-shapes',
    'A store may name the shapes of a contract and of the open books; it uses no code of them.',
    { path: SUFFIX('store') },
    { path: [...CONTRACT, '^core/answering\\.ts$'], ...USED },
  ),
  rule(
    'store-libraries',
    'A store needs Kysely, and no other library.',
    { path: SUFFIX('store') },
    { pathNot: ['^core/', npm('kysely'), ZOD] },
  ),
  rule(
    'paper-imports-only-pure',
    'A paper is drawn from plain data: pure files, papers and the paper room.',
    { path: SUFFIX('paper'), pathNot: ROOMS },
    { path: ['-(answers|work)\\.ts$', '^core/(database|work)/', DOOR], pathNot: '^core/answering\\.ts$' },
  ),
  rule(
    'paper-knows-of-its-data-only-shapes',
    'A paper may name the shapes that a contract, a store or the door hands it; it uses no code of them.',
    { path: SUFFIX('paper'), pathNot: ROOMS },
    { path: [...CONTRACT, SUFFIX('store'), '^core/answering\\.ts$'], ...USED },
  ),
  rule(
    'answers-stay-in-their-folder',
    'Answers fill the contract of their own folder; an action of a folder to the left they may call inside their own transaction.',
    { path: '^core/([^/]+)/.+-answers\\.ts$' },
    { path: '^core/.+-(contract|work)\\.ts$', pathNot: '^core/$1/', ...USED },
  ),
  rule(
    'work-knows-no-assembly',
    'Long work is given its desk: it knows neither the office nor the lists that gather answers.',
    { path: SUFFIX('work') },
    { path: `^core/${any(['office', 'contract', 'listening', 'works', 'turns', 'papers', 'desk-of-office'])}\\.ts$` },
  ),
  rule(
    'only-the-door-gathers',
    'Answers are used by answers, by long work and by the lists of the door, and nowhere else.',
    {
      path: '^(core|electron|renderer|migrations)/',
      pathNot: ['^core/(office|listening|works|turns|papers)\\.ts$', '-(answers|work)\\.ts$'],
    },
    { path: SUFFIX('answers') },
  ),
]

const rooms = [
  rule(
    'paper-room-knows-no-job',
    'core/paper knows units and the stage train, and no letter and no invoice.',
    { path: '^core/paper/' },
    {
      path: '^core/',
      pathNot: ['^core/(paper|units|installations)/', '^core/(problems|result|clock)\\.ts$'],
    },
  ),
  rule(
    'database-room-knows-no-job',
    'core/database knows units and migrations; of the job it knows the types of its columns, and no code.',
    { path: '^core/database/' },
    {
      path: '^core/',
      pathNot: ['^core/(database|units)/', '^core/(problems|result|clock)\\.ts$'],
      dependencyTypesNot: ['type-only'],
    },
  ),
  rule(
    'database-room-has-no-role-files',
    'core/database imports no contract, store, answers, paper, work or door.',
    { path: '^core/database/' },
    {
      path: [
        ROLE,
        '^core/(paper|work)/',
        '^core/(office|desk-of-office|listening|works|turns|papers)\\.ts$',
        CONTRACT_DOOR,
      ],
    },
  ),
  rule(
    'database-knows-no-window',
    'The database never knows a window.',
    { path: '^core/database/' },
    { path: '^(electron|renderer)/' },
  ),
  rule(
    'sql-lives-in-stores',
    'Kysely is imported by stores, the database room and migrations.',
    { path: '^(core|electron|renderer)/', pathNot: [SUFFIX('store'), '^core/database/'] },
    {
      path: npm('kysely'),
    },
  ),
  rule(
    'drivers-live-in-the-database-room',
    'Database drivers are opened in core/database only.',
    { path: '^(core|electron|renderer|migrations)/', pathNot: '^core/database/' },
    {
      path: npm('better-sqlite3', '@types/better-sqlite3', 'pg', '@types/pg'),
    },
  ),
  rule(
    'pdfkit-lives-in-the-paper-room',
    'pdfkit is drawn with in core/paper only.',
    { path: '^(core|electron|renderer|migrations)/', pathNot: '^core/paper/' },
    {
      path: npm('pdfkit', '@types/pdfkit'),
    },
  ),
]

const houses = [
  rule(
    'migrations-are-frozen',
    'A migration imports Kysely and nothing that lives on.',
    { path: '^migrations/' },
    { pathNot: ['^migrations/', npm('kysely')] },
  ),
  rule(
    'migrations-stand-alone',
    'A numbered migration does not lean on another.',
    { path: '^migrations/\\d{4}-' },
    { path: '^migrations/' },
  ),
  rule(
    'core-imports-no-house',
    'Core knows neither window nor shell nor test.',
    { path: '^core/' },
    { path: '^(electron|renderer|tests)/' },
  ),
  rule(
    'renderer-sees-only-core-pure-and-contract',
    'A window sees pure files and contracts of core.',
    { path: '^renderer/' },
    {
      path: ['^core/.+-(store|answers|paper|work)\\.ts$', ROOMS, DOOR, '^(migrations|tests)/'],
    },
  ),
  rule(
    'renderer-sees-of-the-shell-only-the-desktop-extras',
    'A window knows the shell by the contract of the desktop extras alone.',
    { path: '^renderer/' },
    {
      path: '^electron/',
      pathNot: '^electron/preload/desktop-extras\\.ts$',
    },
  ),
  rule(
    'renderer-has-no-node',
    'A window has no Node and no database.',
    { path: '^renderer/' },
    { dependencyTypes: ['core'] },
  ),
  rule(
    'renderer-has-no-server-library',
    'A window has no server library.',
    { path: '^renderer/' },
    {
      path: npm('@orpc/server', '@hono/node-server', 'hono', 'electron'),
    },
  ),
  rule(
    'screens-do-not-import-screens',
    'A screen stands alone; what two share is a part of its own.',
    { path: '^renderer/(.+Screen)\\.tsx$' },
    {
      path: '^renderer/.+Screen\\.tsx$',
      pathNot: '^renderer/$1\\.tsx$',
    },
  ),
  rule(
    'react-lives-in-the-renderer',
    'React and its company are imported in the renderer only.',
    { path: '^(core|electron|migrations)/' },
    {
      path: npm('react', 'react-dom', 'react-aria-components', '@tanstack/.+', '@types/react', '@types/react-dom'),
    },
  ),
  rule(
    'electron-knows-core-by-its-office',
    'The shell knows the office, the clock and pure files; no store, answers, paper, work or room.',
    { path: '^electron/', pathNot: '^electron/day/' },
    {
      path: ['^core/.+-(store|answers|paper|work|contract)\\.ts$', ROOMS, DOOR, CONTRACT_DOOR],
      pathNot: '^core/office\\.ts$',
    },
  ),
  rule(
    'the-day-asks-the-office',
    'The command line asks the office as a window does; besides it may open books and start a long work.',
    { path: '^electron/day/' },
    { path: '^core/.+-(store|answers|paper)\\.ts$' },
  ),
  rule(
    'electron-imports-no-renderer',
    'The shell serves the built window; it imports none of it.',
    { path: '^electron/' },
    { path: '^(renderer|migrations|tests)/' },
  ),
  rule(
    'electron-lives-in-main-and-preload',
    'The Electron package is imported in electron/main and electron/preload only.',
    { path: '^(core|electron|renderer|migrations|tests)/', pathNot: '^electron/(main|preload)/' },
    { path: npm('electron'), ...USED },
  ),
  rule(
    'preload-is-thin',
    'The preload knows Electron, zod and its own folder.',
    { path: '^electron/preload/' },
    {
      pathNot: ['^electron/preload/', npm('electron'), ZOD],
    },
  ),
  rule(
    'main-and-served-are-apart',
    'The desktop shell and the served office do not import each other.',
    { path: '^electron/(main|served)/' },
    {
      path: '^electron/(main|served|start)/',
      pathNot: '^electron/$1/',
    },
  ),
  rule(
    'the-socket-lives-in-the-served-office',
    'Only the served office opens a port.',
    { path: '^(core|electron|renderer|migrations)/', pathNot: '^electron/served/' },
    {
      path: npm('@hono/node-server'),
    },
  ),
]

const everywhere = [
  rule('no-cycles', 'No cycles, type-only imports included.', {}, { circular: true }),
  rule('nothing-unresolved', 'Every import leads somewhere.', {}, { couldNotResolve: true }),
  rule(
    'no-development-packages',
    'What ships imports no development package.',
    { path: '^(core|electron/(main|preload|served|page)|renderer|migrations)/' },
    {
      dependencyTypes: ['npm-dev'],
      dependencyTypesNot: ['type-only'],
      pathNot: npm('electron', '@types/.+'),
    },
  ),
  rule(
    'no-undeclared-packages',
    'A package that is imported stands in package.json.',
    {},
    { dependencyTypes: ['npm-no-pkg', 'npm-unknown'] },
  ),
]

module.exports = {
  forbidden: [...folderArrows, ...roles, ...rooms, ...houses, ...everywhere],
  options: {
    parser: 'swc',
    tsPreCompilationDeps: true,
    preserveSymlinks: true,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '\\.(css|ttf|svg)$' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.tsx', '.mts', '.js', '.mjs', '.cjs', '.json'],
      exportsFields: ['exports'],
      conditionNames: ['import', 'types', 'node', 'default', 'require'],
    },
  },
}
