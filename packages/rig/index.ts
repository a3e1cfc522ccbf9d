export * from './connectors';
export * from './extent';
export * from './levels';
export * from './model';
export * from './rig';
export * from './same';
export * from './units';
