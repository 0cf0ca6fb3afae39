"""What commands that record something share: who answers for it, and the packet that is proposed or released."""
