"""Timber: species, sizes as they are sold, moisture."""
