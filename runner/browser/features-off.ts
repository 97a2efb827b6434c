// Features of Chromium that a run does without. Of several `--disable-features` only the last counts, so the ones that Playwright turns off
// stand here as well (tests/browser/launch.test.ts holds that they are all there).

const OFF_IN_PLAYWRIGHT = [
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsUpgrades',
  'HttpsFirstBalancedModeAutoEnable',
  'LensOverlay',
  'MediaRouter',
  'PaintHolding',
  'ThirdPartyStoragePartitioning',
  'AvoidCorsURLLoaderRestartOnRedirect',
  'TcpPortRandomizationWin',
  'OptimizationHints',
  'NetworkTimeServiceQuerying',
  'AimEnabled',
  'PreconnectToSearch',
  'msForceBrowserSignIn',
  'msEdgeUpdateLaunchServicesPreferredVersion',
] as const;

/** Pages of the address bar, loaded with the first window though nobody sees one: 1.3 s of processor time each start (measured). */
const ADDRESS_BAR = ['WebUIOmniboxPopup', 'WebUIOmniboxAimPopup', 'WebUIOmniboxFullPopup', 'WebUIOmniboxSimplification'] as const;

/**
 * A picture by way of a surface of its own, which Playwright turns on: the page is then drawn and copied once more for each (measured,
 * 5.7 million px: 560 ms of processor time a picture with it, 475 without; the same pixels).
 */
const PICTURES = ['CDPScreenshotNewSurface'] as const;

export const FEATURES_OFF = `--disable-features=${[...OFF_IN_PLAYWRIGHT, ...ADDRESS_BAR, ...PICTURES].join(',')}`;
