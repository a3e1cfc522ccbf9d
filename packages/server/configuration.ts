/** What the client's settings say, as it starts and whenever they change. Clients that keep none for us get the defaults. */
import { DefaultConfigurationProvider, type LangiumSharedCoreServices } from 'langium';
import type { DidChangeConfigurationParams } from 'vscode-languageserver';

const SECTION = 'earloom';

export class RigConfigurationProvider extends DefaultConfigurationProvider {
  private fetch: (() => Promise<unknown>) | undefined;

  constructor(
    services: LangiumSharedCoreServices,
    private readonly take: (section: unknown) => void,
  ) {
    super(services);
  }

  override async initialized(params: Parameters<DefaultConfigurationProvider['initialized']>[0]): Promise<void> {
    const { fetchConfiguration } = params;
    if (fetchConfiguration && this.workspaceConfig) this.fetch = async () => (await fetchConfiguration([{ section: SECTION }]))[0];
    await super.initialized(params);
  }

  /** Some clients send the settings along, others only say that they have changed. */
  override updateConfiguration(change: DidChangeConfigurationParams): void {
    const sent = (change.settings as Readonly<Record<string, unknown>> | null | undefined)?.[SECTION];
    if (sent === undefined && this.fetch) {
      this.fetch().then(
        (section) => this.updateSectionConfiguration(SECTION, section),
        (problem) => console.error('The settings could not be read; they stay as they were.', problem),
      );
    } else super.updateConfiguration(change);
  }

  /** The section is called after us and not after the language. */
  protected override toSectionName(): string {
    return SECTION;
  }

  protected override updateSectionConfiguration(section: string, configuration: unknown): void {
    super.updateSectionConfiguration(section, configuration);
    if (section === SECTION) this.take(configuration);
  }
}
