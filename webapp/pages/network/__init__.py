"""The shop's network: the switch, the code that pairs a device, the devices there are."""
