import type { IConfiguration } from 'dependency-cruiser';

declare const walls: IConfiguration;
export default walls;
