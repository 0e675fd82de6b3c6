package pages

// en is in English. What phones call their settings changes from version to version, so that the texts
// say what to look for and lean on no label. The ways are from memory; of the makers' own pages:
// https://support.apple.com/en-us/102390 (trust of certificates that a person installed),
// https://support.google.com/pixelphone/answer/2844832 (adding and removing certificates), both from
// memory; that Firefox for Android does not use what was added to the phone:
// https://github.com/mozilla-mobile/fenix/issues/3728.
var en = map[string]string{
	"language.name":   "English",
	"language.choose": "Language",

	"refused.plain":        "By plain http anybody in the same network could read along. Open {origin} instead.",
	"refused.host":         "This is not the farm’s address. Open {origin} instead.",
	"refused.no_authority": "This farm’s certificate is one that phones know already: there is nothing to install.",
	"profile.description":  "Lets this device trust the farm’s own server. It holds one certificate and nothing else.",

	"explain.title":      "This address is not private",
	"explain.said":       "By http, anybody in the same network could read along and change what you see. So no records are shown or taken here.",
	"explain.safe":       "Nothing was sent. What was recorded before is still where it was.",
	"explain.trust":      "Trust the farm, once on each phone",
	"explain.trust.why":  "The shed makes its own certificate, so that the farm works without the internet. A phone has to be told that it may trust it.",
	"explain.trust.go":   "Show me how",
	"explain.open":       "Open the farm’s address",
	"explain.open.why":   "Always come by this one. Should the browser warn there, this phone does not trust the farm yet: do not go past the warning, take the first step.",
	"explain.open.known": "Always come by this one.",

	"elsewhere.title": "The farm is at another address",
	"elsewhere.said":  "You came to {came}. The farm has one address, on every phone:",
	"elsewhere.why":   "What a phone records belongs to the address it was recorded under. Under another, the phone would start empty, and its records would be in two places.",
	"elsewhere.safe":  "Was Corymb used under this address before? Then what was recorded there is still in this browser. Do not clear its data, and show this to whoever looks after the shed’s laptop.",

	"help.title":   "If it does not open",
	"help.wifi":    "Be in the farm’s wifi: not in one for guests, and not on mobile data.",
	"help.warning": "If the browser warns, this phone does not trust the farm yet.",
	"help.trust":   "How to trust the farm",
	"help.router":  "Some routers hold back a name that leads into the farm’s own network. Ask whoever looks after the shed’s laptop.",
	"help.local":   "Some phones, older Androids above all, do not find names that end in .local. Ask whoever looks after the shed’s laptop: a farm can also be given an address of numbers.",

	"trust.title":     "Let this phone trust the farm",
	"trust.said":      "The shed makes its own certificate, so that the farm works without the internet. A phone has to be told once that it may trust it.",
	"trust.none":      "There is nothing to install",
	"trust.none.said": "This farm’s certificate is one that phones know already.",
	"trust.scan":      "With a phone, scan this to get here",

	"means.title": "What it means",
	"means.names": "The phone then takes the farm’s word for who answers under these names, and under no others:",
	"means.range": "addresses from {from} to {to}",
	"means.limit": "That limit stands in its certificate, for browsers to keep. It ends on {until}.",
	"means.phone": "It lets nobody into the phone: not to its photos, its messages or its passwords.",
	"means.only":  "Trust it only for a farm that you work with, and remove it when you leave.",

	"compare.title":  "Compare before you trust",
	"compare.why":    "The file comes over an unprotected network, where somebody could put another in its place. Whoever made that one could read along with what this phone does on the web. So do this beside the shed’s screen.",
	"compare.how":    "Compare what the phone itself tells of the certificate with what the shed’s screen shows. It must be the same to the last digit:",
	"compare.name":   "Fingerprint, SHA-256",
	"compare.shed":   "If this page shows another number than the shed’s screen, believe the shed’s. Phones may write it in pairs.",
	"compare.differ": "If one digit differs, do not trust it. Remove it, and tell whoever looks after the shed’s laptop.",

	"steps.title":   "On which device?",
	"steps.file":    "Get the certificate",
	"steps.profile": "Get the profile",
	"steps.remove":  "To remove it again",

	"iphone":          "iPhone or iPad",
	"iphone.safari":   "Be in Safari. Other browsers cannot install it.",
	"iphone.allow":    "Allow the download, and do the next step soon: the phone forgets it after some minutes.",
	"iphone.install":  "Open the phone’s Settings. The downloaded profile stands near the top; else look under General, VPN and device management.",
	"iphone.compare":  "Before you install it, look at its details: one certificate, nothing else, and the fingerprint that the shed’s screen shows. That it is not verified or not signed is to be expected, since nobody but the farm vouches for it.",
	"iphone.trust":    "Switch the trust on: Settings, General, About, and at its very end Certificate trust. The entry is called “{authority}”. Without this the browser goes on warning.",
	"iphone.open":     "Open the farm’s address in Safari:",
	"iphone.home":     "Tap Share, then Add to Home Screen. From then on open Corymb from the home screen, and join there: the home screen and Safari keep what is recorded apart.",
	"iphone.remove":   "Settings, General, VPN and device management: choose the profile “{authority}”, and remove it.",
	"android":         "Android phone",
	"android.file":    "The file authority.crt goes to the downloads. Opening it there does nothing on newer phones.",
	"android.install": "Open the phone’s Settings and search there for “CA certificate”. It is often under Security, Encryption and credentials, Install a certificate. Choose CA certificate, then the file. The phone may ask for its screen lock, or for one to be set.",
	"android.warning": "The phone warns that the network may be monitored, and may keep saying so. It says that of every authority that a person adds, because one without limits could do it. The farm’s has the limit above.",
	"android.compare": "Search the Settings for “trusted credentials”, and there for those of the user. Tap “{authority}” and compare its fingerprint, SHA-256, with the shed’s screen.",
	"android.browser": "Use Chrome. Some browsers, such as Firefox for Android, do not use what was added to the phone, and go on warning.",
	"android.open":    "Open the farm’s address in Chrome, and join:",
	"android.home":    "In Chrome’s menu, choose Install app or Add to home screen.",
	"android.remove":  "Search the Settings for “trusted credentials”, those of the user: tap “{authority}”, and remove it.",

	"laptop":         "Laptop",
	"laptop.here":    "The shed’s own laptop needs none of this. There, Corymb is at",
	"laptop.compare": "Compare the fingerprint with the shed’s screen. It is that of the file, so a laptop can work it out, in the folder of the downloads:",
	"laptop.windows": "Windows, for Edge and Chrome",
	"windows.open":   "Open the file and choose to install it, for yourself. Do not let Windows choose the place: take the trusted root certification authorities.",
	"laptop.mac":     "macOS, for Safari and Chrome",
	"mac.open":       "Open the file, so that Keychain takes it in. Open it there, and under Trust choose to trust it always.",
	"laptop.linux":   "Linux, for Chrome and Chromium",
	"linux.open":     "In the browser’s settings look for certificates, under privacy and security. Import the file as an authority, trusted for websites.",
	"laptop.firefox": "Firefox, on every system",
	"firefox.open":   "In its settings search for certificates. View them, and import the file under authorities, trusted for websites.",
	"laptop.open":    "Open the farm’s address, and join:",
	"laptop.remove":  "At the same place choose “{authority}”, and delete it.",
}
