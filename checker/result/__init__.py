"""The one result: its tables, the accounting, and topics."""
