"""Pictures of a packet: weld maps, torch views, charts."""
